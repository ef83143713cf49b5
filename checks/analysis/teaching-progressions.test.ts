/**
 * Short progressions have the key a teacher says, in every key. Source: common practice (what such a line is called: ii–V–I with
 * the IV after it, I vi ii V, Dorian vamp …); the keys of the quoted ones are a teacher's.
 */
import {
  formatKey,
  keyIndexOf,
  parseKey,
  rankedKeys,
  readChart,
  transposeChart,
  usualKey,
  type Key,
  type PitchClass,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';

const IN_C_MAJOR = [
  'Dm7 | G7 | Cmaj7 | Fmaj7',
  'Dm7 | G7sus G7 | Cmaj7 | C7',
  'Dm7 | G7 | Em7 | A7',
  'Dm7 | G7 | Cmaj7 | A7',
  'Dm7 | G7 | Cmaj7 | Am7',
  'Dm7 | G7alt | Cmaj7 | A7alt',
  'Dm7 | G7 | Cmaj7 | E7',
  'Dm7 | G7 | Cmaj7 | Cm7',
  'Dm7 | G7 | C7 | C7',
  'Dm7 | G7 | Em7 | Am7',
  'Dm7 | G7 | Am7 | %',
  'Dm7b5 | G7 | Cmaj7 | %',
  'Dm7 | Db7 | Cmaj7 | %',
  'Fm7 | Bb7 | Cmaj7 | %',
  'Cmaj7 | Fm7 Bb7',
  'Cmaj7 | Am7 | Dm7 | G7',
  'Cmaj7 | A7 | Dm7 | G7',
  'Cmaj7 | C#dim7 | Dm7 | G7',
  'Cmaj7 | C7 | Fmaj7 | Fm6',
  'Em7 | A7 | Dm7 | G7',
  'Em7b5 | A7 | Dm7 | G7',
  'E7 | A7 | D7 | G7',
  'D7 | G7 | Cmaj7 | %',
  'Fmaj7 | G7 | Em7 | Am7',
  'C | Am | F | G',
  'C | F | G | C',
  'C | G | Am | F',
];
const IN_C_MINOR = [
  'Dm7b5 | G7(b9) | Cm7 | F7',
  'Dm7b5 | G7(b9) | Cm7 | C7',
  'Dm7b5 | G7alt | Cm6 | %',
  'Dm7 | G7 | Cm6 | %',
  'Cm7 | Fm7 | Dm7b5 | G7',
  'Cm | Ab | Fm | G7',
  'Cm | Bb | Ab | G',
  'Cm | Bb | Ab | Bb',
  'Cm | Ab | Eb | Bb',
  // vamps: home is where they begin
  'Cm7 | F7',
  'Cm6 | F7 | Cm6 | F7',
  'Cm | Dbmaj7',
  'Cm7 | Dm7 | Cm7 | Dm7',
  'Cm11 | Ebm11 | Gbm11 | Am11',
];
const VAMPS_IN_C_MAJOR = ['C7 | Bb', 'Cmaj7 | D/C'];

describe('short progressions', () => {
  const cases = [
    ...[...IN_C_MAJOR, ...VAMPS_IN_C_MAJOR].map((text) => [text, parseKey('C major') as Key] as const),
    ...IN_C_MINOR.map((text) => [text, parseKey('C minor') as Key] as const),
  ];
  test.each(cases)('%s has the key a teacher says, in every key', (text, home) => {
    const chart = readChart(text);
    if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
    for (let tonic = 0; tonic < 12; tonic++) {
      const key = usualKey(tonic as PitchClass, home.mode);
      const [found] = rankedKeys(transposeChart(chart.value, key, home));
      expect(`${formatKey(key)}: ${keyIndexOf(found?.key as Key)}`).toBe(`${formatKey(key)}: ${keyIndexOf(key)}`);
    }
  });
});
