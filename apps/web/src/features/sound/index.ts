export { hear, openSound, soundOut, sourceFor, stopHearing, type HeardNote } from './hear.ts';
export {
  $keyboardSound,
  $midi,
  $pressed,
  connectKeyboard,
  connectKnownKeyboard,
  onMidi,
  takeController,
  type MidiState,
} from './keyboard.ts';
export { SOUND_HOME, type SoundSource } from './sound-source.ts';
