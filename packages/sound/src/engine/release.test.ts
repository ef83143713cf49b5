import fc from 'fast-check';
import { expect, test } from 'vitest';
import { audibleFrames, makeRelease, releaseGain } from './release.ts';

test('falls straight in decibels: 96 dB in its frames', () => {
  const release = makeRelease(44_100);
  for (const share of [0, 0.1, 0.5, 0.9, 1]) {
    expect(20 * Math.log10(releaseGain(release, Math.round(44_100 * share)))).toBeCloseTo(-96 * share, 3);
  }
});

test('never rises, and ends inside its tables', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 5000 }), (frames) => {
      const release = makeRelease(frames);
      let before = Infinity;
      for (let frame = 0; frame <= frames; frame++) {
        const gain = releaseGain(release, frame);
        // the two tables meet within the last bits of single precision
        expect(gain).toBeLessThanOrEqual(before * (1 + 2 ** -22));
        expect(gain).toBeGreaterThan(0);
        before = gain;
      }
    }),
    { seed: 3, numRuns: 40 },
  );
});

test('is silent after the frames that it says', () => {
  const release = makeRelease(10_000);
  const frames = audibleFrames(release, 0.5, 0.001);
  expect(0.5 * releaseGain(release, frames)).toBeLessThanOrEqual(0.001);
  expect(0.5 * releaseGain(release, frames - 2)).toBeGreaterThan(0.001);
  expect(audibleFrames(release, 0.0001, 0.001)).toBe(0);
  expect(audibleFrames(release, 1, 1e-9)).toBe(10_000);
});

test('a release of no frames is refused', () => {
  expect(() => makeRelease(0)).toThrow(/^frames /u);
});
