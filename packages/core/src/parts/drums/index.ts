export { keyOfDrum, kitAt, type Drum, type DrumKit, type DrumStress, type DrumStroke } from './drum-kit.ts';
export { playDrums, type DrummingOptions } from './play-drums.ts';
