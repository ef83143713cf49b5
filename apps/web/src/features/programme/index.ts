export {
  $isProgrammeKept,
  $programme,
  changeProgramme,
  forgetProgramme,
  lengthMinutes,
  tempoLadder,
  withChorus,
  withCopy,
  withMoved,
  withoutChorus,
} from './programme.ts';
