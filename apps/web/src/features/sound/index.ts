export { hear, soundOut, sourceFor, stopHearing, type HeardNote } from './hear.ts';
export {
  $keyboardSound,
  $midi,
  $pressed,
  connectKeyboard,
  connectKnownKeyboard,
  onMidi,
  takeController,
} from './keyboard.ts';
export { SOUND_HOME } from './sound-source.ts';
