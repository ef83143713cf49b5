/** Drills: what is chosen, and whether it is played or printed in the tune's place. */
export {
  $drillChoice,
  chooseDrill,
  drillChoiceFor,
  drillOrderOf,
  lastBarOf,
  MOST_KEYS,
  type DrillChoice,
} from './drill-choice.ts';
export {
  $drillOnPaper,
  $drillPlayed,
  drillPhrase,
  drillPlayedOf,
  playDrillInstead,
  playTuneAgain,
  showDrillOnPaper,
} from './drill-played.ts';
