/** Bits of a sample in files without loss. */
export type BitDepth = 16 | 24;

/**
 * Samples as whole numbers of a bit depth, left and right in turn, rounded to the nearest; what is outside −1 … 1 is held at the
 * largest. No dither: silence stays silence and the same sound the same bytes.
 */
export function interleaved(
  left: Float32Array,
  right: Float32Array,
  frames: number,
  bits: BitDepth,
): Int32Array<ArrayBuffer> {
  const scale = 2 ** (bits - 1);
  const out = new Int32Array(frames * 2);
  for (let index = 0; index < frames; index++) {
    out[index * 2] = whole(left[index] as number, scale);
    out[index * 2 + 1] = whole(right[index] as number, scale);
  }
  return out;
}

/** A sample as a whole number below `scale`. `+ 0.5` rounded down is Math.round, several times faster in a loop. */
export function whole(sample: number, scale: number): number {
  const value = Math.floor(sample * scale + 0.5);
  return value >= scale ? scale - 1 : value < -scale ? -scale : value;
}
