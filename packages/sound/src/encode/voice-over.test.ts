import { describe, expect, it } from 'vitest';
import { VoiceOver } from './voice-over.ts';

const RATE = 48_000;

/** Words as a microphone has them: bursts of a low hum between pauses of `pauseSeconds`. */
function spoken(words: number, wordSeconds: number, pauseSeconds: number, level: number): Float32Array {
  const length = Math.round(words * (wordSeconds + pauseSeconds) * RATE);
  return Float32Array.from({ length }, (_, at) =>
    (at / RATE) % (wordSeconds + pauseSeconds) < wordSeconds ? level * Math.sin((2 * Math.PI * 180 * at) / RATE) : 0,
  );
}

/** Music, a constant on the left and nothing on the right, with voices laid under it in pieces of `piece` frames. */
function laid(over: VoiceOver, seconds: number, piece: number): { left: Float32Array; right: Float32Array } {
  const pass = over.pass();
  const left = new Float32Array(seconds * RATE).fill(0.5);
  const right = new Float32Array(seconds * RATE);
  for (let at = 0; at < left.length; at += piece) {
    const frames = Math.min(piece, left.length - at);
    pass(left.subarray(at, at + frames), right.subarray(at, at + frames), frames);
  }
  return { left, right };
}

/** How loud the music is at a time, in dB of itself. */
const musicAt = ({ left, right }: ReturnType<typeof laid>, seconds: number): number => {
  const at = Math.round(seconds * RATE);
  return 20 * Math.log10(((left[at] as number) - (right[at] as number)) / 0.5);
};

describe('a voice under music', () => {
  const over = new VoiceOver(RATE, [{ startSeconds: 2, samples: spoken(4, 0.4, 0.3, 0.02) }]);
  const sound = laid(over, 10, 8192);

  it('has the music back when the first word comes, and while words follow each other', () => {
    expect(musicAt(sound, 1)).toBe(0);
    expect(musicAt(sound, 1.88)).toBeLessThan(-2);
    for (const seconds of [2.001, 2.55, 3.5, 4.5]) expect(musicAt(sound, seconds)).toBeCloseTo(-13, 1);
    expect(musicAt(sound, 7.5)).toBe(0);
  });

  it('is as loud however far from the microphone it was spoken', () => {
    const peak = (level: number): number =>
      laid(new VoiceOver(RATE, [{ startSeconds: 0, samples: spoken(8, 0.4, 0.3, level) }]), 4, 4096).right.reduce(
        (most, each) => Math.max(most, Math.abs(each)),
        0,
      );
    expect(peak(0.01) / peak(0.3)).toBeCloseTo(1, 2);
  });

  it('is the same in whatever pieces the music comes', () => {
    const other = laid(over, 10, 777);
    expect(other.left.every((each, at) => each === sound.left[at])).toBe(true);
  });

  it('has the music back once where two voices meet', () => {
    const two = [0, 2].map((startSeconds) => ({ startSeconds, samples: spoken(5, 0.35, 0.05, 0.1) }));
    expect(musicAt(laid(new VoiceOver(RATE, two), 5, 8192), 2.2)).toBeCloseTo(-13, 1);
  });

  it('leaves music as it is under silence', () => {
    const silent = new VoiceOver(RATE, [{ startSeconds: 1, samples: new Float32Array(RATE) }]);
    expect(laid(silent, 3, 4096).left.every((each) => each === 0.5)).toBe(true);
  });
});
