export type { LoopBars } from './course.ts';
export { secondsAt } from './course.ts';
export { followComputerKeys, giveComputerKeys } from './computer-keys.ts';
export { isSamePlace, type FormBar, type FormFamily, type HandPlace } from './form-view.ts';
export { $found, followHand, touchThumb } from './found.ts';
export { $heardKeys, followKeys } from './heard-keys.ts';
export type { Moment } from './moment.ts';
export { nextSaid, type Said } from './next-said.ts';
export { $isAssigning, listenToPedals, type Pedal } from './pedal.ts';
export { chorusSegments, type Piece } from './piece.ts';
export { playableOf, type Playable } from './playable.ts';
export { FASTEST_RATE, SLOWEST_RATE } from './rates.ts';
export {
  $isCautioned,
  $moment,
  $piece,
  $playing,
  answerCautions,
  changeMix,
  changePractice,
  goToBar,
  heardNow,
  isSounding,
  leavePlaying,
  loopBars,
  pause,
  prepareProgramme,
  putDown,
  start,
  startOrPause,
  startWithCare,
  tryAgain,
  type HeardNow,
  type Playing,
} from './playing.ts';
export { $practice } from './practice.ts';
