import type { NoteName } from '@fivespan/core';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { words } from '../words/index.ts';

/** The line beside a lesson's title: key, tempo, feel, as far as the chart states them. */
export function metaOf({ chart }: OpenLesson, noteText: (note: NoteName) => string): string {
  if (chart === null) return '';
  const parts = [
    ...(chart.key === null ? [] : [words.shell.key(noteText(chart.key.tonic), chart.key.mode)]),
    ...(chart.tempoBpm === null ? [] : [`♩ = ${chart.tempoBpm}`]),
    chart.feel,
  ];
  return parts.join(' · ');
}
