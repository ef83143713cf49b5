/** Turns sound into a file's bytes, as the sound comes. */
export interface SoundEncoder {
  /** The next frames' bytes; may be none yet. */
  add(left: Float32Array, right: Float32Array, frames: number): Uint8Array;
  /**
   * What is left.
   * @returns the last bytes, and the file's beginning, which for some formats is known only now
   */
  finish(): { readonly head: Uint8Array; readonly tail: Uint8Array };
}
