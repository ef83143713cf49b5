export type { LoopBars } from './course.ts';
export { isSamePlace, type FormBar, type FormView, type HandPlace } from './form-view.ts';
export type { Moment } from './moment.ts';
export { $isAssigning, listenToPedals, type Pedal } from './pedal.ts';
export { chorusSegments, type BarPlace, type Piece } from './piece.ts';
export { FASTEST_RATE, SLOWEST_RATE } from './piece-window.ts';
export {
  $isCautioned,
  $moment,
  $piece,
  $playing,
  answerCautions,
  changeMix,
  changePractice,
  isSounding,
  leavePlaying,
  pause,
  prepareProgramme,
  putDown,
  start,
  startOrPause,
  tryAgain,
  type Playable,
  type Playing,
} from './playing.ts';
export { $practice, type PlayerMix, type Practice } from './practice.ts';
