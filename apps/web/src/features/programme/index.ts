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
