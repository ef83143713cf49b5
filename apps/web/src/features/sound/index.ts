export { $isGentle } from './gentle.ts';
export { hear, stopHearing } from './hear.ts';
export type { HeardNote } from './heard-note.ts';
export type { HeardPlace, Hearing } from './hearing.ts';
export {
  $keyboardSound,
  $midi,
  $pressed,
  connectKeyboard,
  connectKnownKeyboard,
  onMidi,
  onPlayed,
  letGoKey,
  onStrike,
  strikeKey,
  takeController,
} from './keyboard.ts';
export { measureDelay } from './key-delay.ts';
export { sourceFor, soundOut } from './sound-out.ts';
export { SOUND_HOME } from './sound-source.ts';
