export { RIGHT_HANDS, rightHandOf, withRightHand, type RightHand } from './right-hand.ts';
export {
  $isProgrammeKept,
  $programme,
  changeProgramme,
  forgetProgramme,
  lengthMinutes,
  programmeFault,
  tempoLadder,
  withChorus,
  withCopy,
  withMoved,
  withoutChorus,
} from './programme.ts';
