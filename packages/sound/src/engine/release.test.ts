import fc from 'fast-check';
import { expect, test } from 'vitest';
import { audibleFrames, makeRelease, releaseGain, silentFrom } from './release.ts';

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

test('a note is silent from the frame that it says, and not long before', () => {
  const STEP = 100;
  const FLOOR = 0.001;
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 5000 }),
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 40 }),
      fc.nat(3900),
      fc.double({ min: 0.1, max: 4, noNaN: true }),
      (releaseFrames, peaks, left, gain) => {
        const release = makeRelease(releaseFrames);
        const peaksAhead = Float32Array.from(peaks).sort().reverse();
        const silent = silentFrom(release, peaksAhead, STEP, gain, FLOOR, left);
        const level = (frame: number): number =>
          frame - left > releaseFrames
            ? 0
            : (peaksAhead[Math.floor(frame / STEP)] ?? 0) * gain * releaseGain(release, frame - left);
        for (let frame = Math.max(left, silent); frame < left + releaseFrames; frame += 7) {
          // the tables of the fall are of single precision
          expect(level(frame)).toBeLessThanOrEqual(FLOOR * (1 + 1e-5));
        }
        if (silent > left + 2) expect(level(silent - 2)).toBeGreaterThan(FLOOR * (1 - 1e-5));
      },
    ),
    { seed: 5, numRuns: 300 },
  );
});
