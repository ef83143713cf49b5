export {
  LARGEST_VOICE_BYTES,
  LONGEST_SCENE_SECONDS,
  LONGEST_VOICE_NAME,
  LONGEST_VOICE_SECONDS,
  LONGEST_WORDS,
  MOST_SCENES,
  SCENE_KINDS,
  type Scene,
  type SceneKind,
  type SceneVoice,
  USUAL_SCENES,
  sceneOf,
} from './scene.ts';
export type { Cue, HandPlace, Said } from './said.ts';
export {
  type Card,
  EMPTY_PICTURE,
  type HandShown,
  type Heading,
  type KeyboardShown,
  type LineShown,
  type NowShown,
  type Picture,
  type PressedKey,
  changeKey,
} from './picture.ts';
export {
  FRAME_RATES,
  type FilmTimeline,
  type FrameRate,
  type Still,
  type TimedScene,
  frameCount,
  runsOf,
  thumbnailOf,
} from './film.ts';
export { type ClockMark, type TempoPlace, clockFault, clockOf, clockTime, readClock } from './clock.ts';
export { writeSrt, writeWebVtt } from './captions.ts';
