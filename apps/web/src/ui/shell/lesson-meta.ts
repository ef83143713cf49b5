import { shownKey, type NoteName } from '@fivespan/core';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { words } from '../words/index.ts';

/** The line beside a lesson's title: the key it is shown in, tempo, feel, as far as they are stated. */
export function metaOf({ chart, choices }: OpenLesson, noteText: (note: NoteName) => string): string {
  if (chart === null) return '';
  const key = shownKey(chart, choices);
  const parts = [
    ...(key === null ? [] : [words.shell.key(noteText(key.tonic), key.mode)]),
    ...(chart.tempoBpm === null ? [] : [`♩ = ${chart.tempoBpm}`]),
    chart.feel,
  ];
  return parts.join(' · ');
}
