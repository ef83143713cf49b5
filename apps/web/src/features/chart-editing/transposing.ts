import {
  barsOf,
  formatKey,
  parseKey,
  readAround,
  transposePins,
  transposeText,
  usualKeys,
  type Key,
} from '@fivespan/core';
import { computed } from 'nanostores';
import { $made, $open, changeLesson } from '../open-lesson/index.ts';
import { endEdit } from './editing.ts';
import { $reading } from './reading.ts';

/** The key the chart is in: stated, or found by the analysis; null until it is found. */
export const $keyNow = computed(
  [$reading, $made],
  (reading, made): { readonly key: Key; readonly isStated: boolean } | null => {
    if (reading?.chart?.key) return { key: reading.chart.key, isStated: true };
    return made === null || reading === null ? null : { key: made.lesson.analysis.key, isStated: false };
  },
);

/** Major and minor keys that are also written the other way: by how many flats or sharps. Common practice. */
const OTHER_SPELLINGS = {
  major: ['F# major', 'C# major', 'Cb major'],
  minor: ['Ab minor', 'D# minor', 'A# minor'],
} as const;

/** Keys one can go to, round the circle of fourths from C; the other spellings after them. */
export function keysToChoose(mode: Key['mode']): Key[] {
  const others = OTHER_SPELLINGS[mode].flatMap((name) => parseKey(name) ?? []);
  return [...usualKeys(mode), ...others];
}

/** The first bars as they would be written in a key. */
export function previewIn(key: Key, from: Key, mostBars: number): readonly string[] {
  const text = transposeText($open.get()?.chartText ?? '', key, from);
  const chart = text === undefined ? null : readAround(text).chart;
  if (chart === null) return [];
  return barsOf(chart)
    .slice(0, mostBars)
    .map((bar) => bar.slots.map(({ chord }) => chord.symbol).join('  '));
}

/** Writes the chart in another key; what the teacher has fixed goes with it. */
export function transposeTo(key: Key, from: Key): void {
  const open = $open.get();
  const chartText = open === null ? undefined : transposeText(open.chartText, key, from);
  if (open === null || chartText === undefined) return;
  endEdit();
  // two steps undone as one: pins follow their slots first, then move to the key
  const together = `transpose ${formatKey(from)} ${formatKey(key)}`;
  changeLesson({ chartText, together });
  const moved = $open.get()?.choices.pins;
  if (moved !== undefined) changeLesson({ choices: { pins: transposePins(moved, from, key) }, together });
}
