/** Frames the synthesizer computes at a time: envelopes move once a block. The same 128 as an audio thread's block. */
export const BLOCK_FRAMES = 128;
