export { chaptersOf } from './chapters.ts';
export { Limiter } from './limiter.ts';
export { kWeighting, LoudnessMeter, type Biquad } from './loudness.ts';
export type { Mp3Bitrate } from './mp3.ts';
export type { BitDepth } from './pcm.ts';
export * from './sound-file.ts';
export { VoiceOver, type LaidVoice } from './voice-over.ts';
export type { Chapter, SoundTags } from './tags.ts';
