/** Alignment and hands against a piece that pianists played and people aligned. Source: checks/take/vienna.ts (R). */
import { describe, expect, test } from 'vitest';
import { align, handsOf } from '@fivespan/core';
import { HAS_VIENNA, matchedPieces } from './vienna.ts';

describe.skipIf(!HAS_VIENNA)(`Vienna 4x22${HAS_VIENNA ? '' : ': open data not here'}`, () => {
  const pieces = HAS_VIENNA ? matchedPieces() : [];

  test('the performances are there', () => {
    expect(pieces.length).toBeGreaterThanOrEqual(8);
    for (const { written, played, pairs } of pieces) {
      expect(Math.min(written.length, played.length, pairs.length)).toBeGreaterThan(300);
    }
  });

  test.each(pieces)(
    '$name: notes are paired as people paired them, F1 at least 0.995',
    ({ written, played, pairs }) => {
      const { matched, missed, extra } = align(written, played);
      const theirs = new Set(pairs.map((pair) => pair.join(' ')));
      const right = matched.filter((pair) => theirs.has(`${written[pair.written]?.id} ${played[pair.played]?.id}`));
      expect((2 * right.length) / (matched.length + theirs.size)).toBeGreaterThanOrEqual(0.995);
      expect(matched.length + missed.length).toBe(written.length);
      expect(matched.length + extra.length).toBe(played.length);
    },
  );

  test('hands are told apart by how they move as the staves tell: 97 of 100 notes in every performance, 99 in all', () => {
    const shares = pieces.map(({ written, played, pairs }) => {
      const staffOf = new Map(written.map(({ id, staff }) => [id, staff]));
      const playedAs = new Map(pairs.map(([score, sound]) => [sound, staffOf.get(score)]));
      const hands = handsOf(played);
      const known = played
        .map(({ id }, index) => [playedAs.get(id), hands[index]])
        .filter(([staff]) => staff !== undefined);
      return known.filter(([staff, hand]) => (staff === 1) === (hand === 'right')).length / known.length;
    });
    expect(Math.min(...shares)).toBeGreaterThanOrEqual(0.969);
    expect(shares.reduce((sum, each) => sum + each, 0) / shares.length).toBeGreaterThanOrEqual(0.99);
  });
});
