/** A lesson studied at the desk: a chord, its ladder, what is fixed there, and the way of the hand. */
export { chartView, type BarView, type ChartView, type Figure, type FigureView, type SlotView } from './chart-view.ts';
export {
  chordHeard,
  noteHeard,
  positionHeard,
  resolutionHeard,
  scaleHeard,
  secondsPerTick,
  stretchHeard,
} from './hearing.ts';
export {
  $isLadderFaulty,
  $ladderView,
  lookAtPosition,
  lookAtRoute,
  lookAtRung,
  studyAgain,
  watchLadder,
  type LadderView,
  type LookedAt,
  type Rung,
} from './ladder.ts';
export {
  countPins,
  isPinned,
  issuesOfPins,
  pinChordScale,
  pinKey,
  pinNumeral,
  allowSecond,
  pinPosition,
  pinVoicing,
  PIN_KINDS,
  pinsAt,
  stretchOfScalePin,
  unpin,
  unpinAll,
  type PinKind,
  type PinsOfSlot,
} from './pins.ts';
export {
  $isWriting,
  $spot,
  $written,
  isLine,
  isSameSpot,
  noteAtSpot,
  spotOf,
  type Spot,
  type WritablePart,
  type Written,
  type WritingOrder,
} from './spot.ts';
export { composeAgain, isOwnAt, lengthAt, setWriting, write } from './own-notes.ts';
export { voicingFaultsAt } from './own-voicing.ts';
export { canGiveMotive, giveMotive, letMotiveGo, motiveHere } from './motives.ts';
export { keepPhrase, phrasesHere, putPhrase, removePhrase, renamePhrase, type PhraseHere } from './phrases.ts';
export { $soundFault, silence, sound, type HeardNote } from './sounding.ts';
export { $study, chooseSlot, forgetChosen, isSameSlot, nameOf, type SlotName, type Study } from './study.ts';
export { $walkSounds, $walkView, startWalk, stopWalk, walkTo, type WalkView } from './walk.ts';
export { curvePoints, setWish, takeCurveBack, type CurvePoint } from './outside-curve.ts';
export { voicingHeard, voicingView, type VoicingView } from './voicing.ts';
export { $shapeMarks } from './shape-signs.ts';
export {
  $deskView,
  $handPart,
  $roughnessShown,
  DESK_VIEWS,
  HAND_PARTS,
  type DeskView,
  type HandPart,
} from './desk-view.ts';
