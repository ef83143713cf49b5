import { expect, test } from 'vitest';
import { inventedAnalysis } from './invented-analysis.ts';
import { outsideCurve, ownCurve } from './outside-curve.ts';

// common practice: a tritone substitute is outside already, and taken out again it comes home
test('a substitute is taken no further outside than a tonic, unless a teacher wishes it', () => {
  const analysis = inventedAnalysis('Dm7 | G7 | Cmaj7 | A7 | Dm7 | Db7 | Cmaj7 | %', 'C major');
  const at = (symbol: string): number => analysis.slots.findLastIndex(({ chord }) => chord?.symbol === symbol);
  expect(analysis.slots[at('Db7')]?.reading.role).toBe('substitute dominant');
  expect(outsideCurve(analysis, 3)[at('Db7')]).toBe(3);
  expect(ownCurve(analysis, [3])[at('Db7')]).toBe(11);
  expect(ownCurve(analysis, [3])[at('G7')]).toBe(11);
});
