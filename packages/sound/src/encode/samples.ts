import type { SoundEncoder } from './encoder.ts';

const NOTHING = new Uint8Array(0);

/** Gives the samples on as they are, left and right in turn as 32-bit floats: for whoever encodes them elsewhere. */
export function samplesEncoder(): SoundEncoder {
  return {
    add: (left, right, frames) => {
      const samples = new Float32Array(frames * 2);
      for (let index = 0; index < frames; index++) {
        samples[index * 2] = left[index] as number;
        samples[index * 2 + 1] = right[index] as number;
      }
      return new Uint8Array(samples.buffer);
    },
    finish: () => ({ head: NOTHING, tail: NOTHING }),
  };
}
