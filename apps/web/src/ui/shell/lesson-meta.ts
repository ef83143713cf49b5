import { formatKey, typeset } from '@fivespan/core';
import type { OpenLesson } from '../../features/open-lesson/index.ts';

/** The line beside a lesson's title: key, tempo, feel, as far as the chart states them. */
export function metaOf({ chart }: OpenLesson): string {
  if (chart === null) return '';
  const parts = [
    ...(chart.key === null ? [] : [typeset(formatKey(chart.key))]),
    ...(chart.tempoBpm === null ? [] : [`♩ = ${chart.tempoBpm}`]),
    chart.feel,
  ];
  return parts.join(' · ');
}
