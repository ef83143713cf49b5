/** All sound jobs go to one worker, which keeps the bank and the notes it has rendered. */
export const SOUND_HOME = 'sound';

/** Where sound comes from: the bank's address and the audio thread's rate. */
export interface SoundSource {
  readonly bankUrl: string;
  readonly sampleRate: number;
}
