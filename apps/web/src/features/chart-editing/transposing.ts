import {
  barsOf,
  formatKey,
  parseKey,
  readAround,
  shownKey,
  transposeText,
  usualKeys,
  type Choices,
  type Key,
} from '@fivespan/core';
import { computed } from 'nanostores';
import { $made, $open, changeLesson } from '../open-lesson/index.ts';
import { endEdit } from './editing.ts';
import { $reading } from './reading.ts';

/** The key the chart is written in: stated, or found by the analysis; null until it is found. */
export const $keyNow = computed(
  [$reading, $made],
  (reading, made): { readonly key: Key; readonly isStated: boolean } | null => {
    if (reading?.chart?.key) return { key: reading.chart.key, isStated: true };
    return made === null || reading === null ? null : { key: made.lesson.writtenKey, isStated: false };
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

/** The key the lesson is shown in where that is another than the chart is written in; else null. */
export const $shownIn = computed([$open, $keyNow], (open, now): Key | null => {
  if (open === null || now === null) return null;
  const shown = shownKey({ key: now.key }, open.choices);
  return shown === null || formatKey(shown) === formatKey(now.key) ? null : shown;
});

/** A kept programme goes along where its choruses were in the key shown before; other keys were chosen for themselves. */
function programmeIn(programme: Choices['programme'], before: Key, key: Key): Choices['programme'] {
  if (programme === null) return null;
  const choruses = programme.choruses.map((chorus) =>
    formatKey(chorus.key) === formatKey(before) ? { ...chorus, key } : chorus,
  );
  return { ...programme, choruses };
}

/**
 * Shows the lesson in another key, on every screen but the chart's. The chart and the pins stay as they are written: the way taken
 * from key to key does not matter, and nothing is lost on it.
 * @param written the key the chart is written in: shown in it, it is as written
 */
export function showIn(key: Key, written: Key): void {
  const open = $open.get();
  if (open === null) return;
  const { shownIn, programme } = open.choices;
  endEdit();
  changeLesson({
    choices: {
      shownIn: formatKey(key) === formatKey(written) ? null : key,
      programme: programmeIn(programme, shownIn ?? written, key),
    },
  });
}
