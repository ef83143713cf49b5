import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accompanimentSwing, soloistSwing, swung } from './swing.ts';

const beatAt = (bpm: number): number => 60 / bpm;
const anyTempo = fc.integer({ min: 30, max: 400 });
const RUNS = { seed: 20_261_125, numRuns: 300 };

describe('swung', () => {
  it('keeps the ends of a beat, moves its half, and never turns back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 4, noNaN: true }),
        fc.array(fc.integer({ min: 0, max: 96 })),
        (ratio, at) => {
          expect(swung(0, ratio)).toBe(0);
          expect(swung(1, ratio)).toBeCloseTo(1, 12);
          expect(swung(0.5, ratio) / (1 - swung(0.5, ratio))).toBeCloseTo(ratio, 9);
          const shares = [...new Set(at)].toSorted((a, b) => a - b).map((each) => swung(each / 96, ratio));
          expect(shares).toEqual(shares.toSorted((a, b) => a - b));
        },
      ),
      RUNS,
    );
  });

  it('leaves an even beat as it is', () => {
    for (const share of [0, 0.25, 1 / 3, 0.5, 0.75]) expect(swung(share, 1)).toBeCloseTo(share, 12);
  });
});

describe('soloistSwing', () => {
  it('never swings more than the ride where the ride swings at all, and is never later than 40 ms', () => {
    fc.assert(
      fc.property(anyTempo, (bpm) => {
        const ride = accompanimentSwing(beatAt(bpm));
        const solo = soloistSwing(beatAt(bpm));
        expect(solo.ratio).toBeLessThanOrEqual(Math.max(1.2, ride.ratio));
        expect(solo.delaySeconds).toBeGreaterThanOrEqual(0);
        expect(solo.delaySeconds).toBeLessThanOrEqual(0.04);
      }),
      RUNS,
    );
  });

  it('comes with the ride on off-beats from 170 to 270, before it where slower', () => {
    for (let bpm = 40; bpm <= 270; bpm += 5) {
      const beat = beatAt(bpm);
      const { ratio, delaySeconds } = soloistSwing(beat);
      const apart = delaySeconds + beat * swung(0.5, ratio) - beat * swung(0.5, accompanimentSwing(beat).ratio);
      if (bpm >= 170) expect(apart).toBeCloseTo(0, 9);
      else expect(apart).toBeLessThanOrEqual(1e-9);
    }
  });
});
