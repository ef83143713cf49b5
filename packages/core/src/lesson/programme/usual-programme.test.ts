import { expect, test } from 'vitest';
import { analyse } from '../../analysis/index.ts';
import { readChart } from '../../chart/index.ts';
import { DEFAULT_CHOICES } from '../lesson.ts';
import { playProgramme } from './play-programme.ts';
import { programmeMinutes, usualProgramme } from './usual-programme.ts';

function chartOf(text: string) {
  const read = readChart(text);
  if (!read.ok) throw new Error('the chart must be right');
  return read.value;
}

test('a tune is played three times at its own tempo, and its length is known before', () => {
  const chart = chartOf('key: F\ntempo: 90\n\nGm7 | C7 | Fmaj7 | Fmaj7');
  const analysis = analyse(chart, DEFAULT_CHOICES.pins.analysis);
  const programme = usualProgramme(chart, analysis.key);
  // 2 bars of count-in, 3 choruses and the last bar: 15 bars of 4 beats at 90
  expect(programmeMinutes(chart, analysis.form, programme)).toBeCloseTo((15 * 4) / 90, 10);
  const played = playProgramme(chart, DEFAULT_CHOICES, programme);
  expect(played?.segments.filter(({ kind }) => kind === 'chorus')).toHaveLength(3);
  expect(played?.endSeconds).toBeCloseTo((15 * 4 * 60) / 90, 6);
});

test('a change of tempo is counted in again', () => {
  const chart = chartOf('key: F\ntempo: 60\n\nGm7 | C7');
  const { key, form } = analyse(chart, DEFAULT_CHOICES.pins.analysis);
  const programme = usualProgramme(chart, key);
  const [first] = programme.choruses;
  if (first === undefined) throw new Error('must be there');
  const ladder = { ...programme, choruses: [first, { ...first, tempoBpm: 120 }] };
  // at 60: 2 + 2 bars of 4 seconds; at 120: 2 + 2 bars of 2, and the last one
  expect(programmeMinutes(chart, form, ladder)).toBeCloseTo((16 + 8 + 2) / 60, 10);
});

test.each([
  ['a pickup longer than the count-in', 'key: F\ntempo: 90\npickup: 1\n\nC7 | Gm7 | C7 | Fmaj7', 0],
  ['a waltz', 'key: F\ntempo: 140\nmeter: 3/4\n\nGm7 | C7 | Fmaj7 | %', 2],
  ['repeats', 'key: F\ntempo: 200\n\n|: Gm7 | C7 :| Fmaj7 | %', 1],
])('what is said before is what is played: %s', (_what, text, countInBars) => {
  const chart = chartOf(text);
  const { key, form } = analyse(chart, DEFAULT_CHOICES.pins.analysis);
  const usual = usualProgramme(chart, key);
  const [first] = usual.choruses;
  if (first === undefined) throw new Error('must be there');
  const programme = {
    ...usual,
    countInBars,
    choruses: [first, { ...first, tempoBpm: 77 }, { ...first, tempoBpm: 77 }],
  };
  const played = playProgramme(chart, DEFAULT_CHOICES, programme);
  expect(programmeMinutes(chart, form, programme) * 60).toBeCloseTo(played?.endSeconds ?? 0, 6);
});
