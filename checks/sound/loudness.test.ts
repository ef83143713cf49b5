/**
 * Source: ITU-R BS.1770-4 (from memory): table 1 and 2, the weighting's coefficients at 48 kHz; its calibration, a 997 Hz sine at full
 * scale on one channel reads −3.01 LKFS. EBU Tech 3341, cases 1 to 3 (from memory): 1 kHz in stereo at −23 and −33 dBFS, and the gate.
 */
import { kWeighting, LoudnessMeter, Limiter } from '@fivespan/sound/encode';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const sine = (rate: number, seconds: number, hertz: number, peakDb: number): Float32Array =>
  Float32Array.from(
    { length: Math.round(rate * seconds) },
    (_, frame) => 10 ** (peakDb / 20) * Math.sin((2 * Math.PI * hertz * frame) / rate),
  );

const measured = (rate: number, left: Float32Array, right: Float32Array): number | undefined => {
  const meter = new LoudnessMeter(rate);
  // in odd pieces: the meter must not care
  for (let at = 0; at < left.length; at += 777) {
    const frames = Math.min(777, left.length - at);
    meter.add(left.subarray(at, at + frames), right.subarray(at, at + frames), frames);
  }
  return meter.integratedLufs;
};

describe('BS.1770-4', () => {
  test('coefficients at 48 kHz are the printed ones', () => {
    const { shelf, highPass } = kWeighting(48_000);
    expect(shelf.b0).toBeCloseTo(1.53512485958697, 10);
    expect(shelf.b1).toBeCloseTo(-2.69169618940638, 10);
    expect(shelf.b2).toBeCloseTo(1.19839281085285, 10);
    expect(shelf.a1).toBeCloseTo(-1.69065929318241, 10);
    expect(shelf.a2).toBeCloseTo(0.73248077421585, 10);
    expect(highPass.a1).toBeCloseTo(-1.99004745483398, 10);
    expect(highPass.a2).toBeCloseTo(0.99007225036621, 10);
  });

  test.each([44_100, 48_000])('997 Hz at full scale on one channel reads −3.01 at %d Hz', (rate) => {
    const tone = sine(rate, 5, 997, 0);
    expect(measured(rate, tone, new Float32Array(tone.length))).toBeCloseTo(-3.01, 1);
  });
});

describe('Tech 3341', () => {
  test.each([-23, -33])('case: stereo 1 kHz at %d dBFS reads the same number, ±0.1', (level) => {
    const tone = sine(48_000, 20, 1000, level);
    expect(Math.abs((measured(48_000, tone, tone) ?? 0) - level)).toBeLessThan(0.1);
  });

  test('case 3: soft passages before and after do not count', () => {
    const parts = [sine(48_000, 10, 1000, -36), sine(48_000, 60, 1000, -23), sine(48_000, 10, 1000, -36)];
    const tone = Float32Array.from(parts.flatMap((part) => Array.from(part)));
    expect(Math.abs((measured(48_000, tone, tone) ?? 0) + 23)).toBeLessThan(0.1);
  });

  test('silence has no loudness', () => {
    expect(measured(48_000, new Float32Array(48_000), new Float32Array(48_000))).toBeUndefined();
  });
});

/** Our own laws of the limiter; no source. */
describe('limiter', () => {
  const limited = (samples: Float32Array, ceiling: number): Float32Array => {
    const limiter = new Limiter(44_100, ceiling);
    const left = new Float32Array(samples.length + limiter.delayFrames);
    left.set(samples);
    const right = left.slice();
    limiter.process(left, right, left.length);
    return left.slice(limiter.delayFrames);
  };

  test('nothing passes the ceiling, whatever comes', () => {
    fc.assert(
      fc.property(fc.array(fc.float({ min: -8, max: 8, noNaN: true }), { minLength: 1, maxLength: 2000 }), (values) => {
        const out = limited(Float32Array.from(values), 0.8);
        // single precision's last bit
        expect(out.every((sample) => Math.abs(sample) <= 0.8 * (1 + 2 ** -23))).toBe(true);
      }),
      { seed: 5, numRuns: 60 },
    );
  });

  test('what lies under the ceiling passes bit for bit', () => {
    const tone = sine(44_100, 0.5, 440, -3);
    expect(limited(tone, 0.8)).toEqual(tone);
  });

  test('after a peak it lets go: later sound passes bit for bit', () => {
    const tone = sine(44_100, 3, 440, -6);
    const loud = tone.slice();
    loud[1000] = 3;
    expect(limited(loud, 0.8).slice(2 * 44_100)).toEqual(tone.slice(2 * 44_100));
  });

  test('however it is cut, the same comes out', () => {
    const loud = sine(44_100, 4, 220, -6);
    // bursts that touch, bursts far enough apart to let go between, and quiet
    for (const at of [0, 40, 700, 100_000, 101_000]) loud.fill(2, at, at + 30);
    const whole = limited(loud, 0.8);
    const limiter = new Limiter(44_100, 0.8);
    const cut = new Float32Array(loud.length + limiter.delayFrames);
    cut.set(loud);
    for (let at = 0, size = 1; at < cut.length; at += size, size = ((size * 7) % 4099) + 1) {
      const side = cut.subarray(at, at + size);
      limiter.process(side, side.slice(), side.length);
    }
    expect(cut.slice(limiter.delayFrames).every((sample, index) => sample === whole[index])).toBe(true);
    expect(limiter.lowestGain).toBeCloseTo(0.4, 5);
  });

  test('its gain moves smoothly: a burst is turned down without a step', () => {
    const loud = sine(44_100, 0.5, 100, -3);
    for (let index = 10_000; index < 12_000; index++) loud[index] = (loud[index] ?? 0) * 3;
    const out = limited(loud, 0.8);
    let most = 0;
    for (let index = 1; index < 9_990; index++) {
      const before = (out[index - 1] ?? 0) / (loud[index - 1] || 1);
      const here = (out[index] ?? 0) / (loud[index] || 1);
      if (Math.abs(loud[index] ?? 0) > 0.1 && Math.abs(loud[index - 1] ?? 0) > 0.1)
        most = Math.max(most, Math.abs(here - before));
    }
    // 5 ms of look-ahead: at most 1/220 of the whole way each frame
    expect(most).toBeLessThan(1 / 200);
  });
});
