/** Drills: what is chosen, and whether it is played in the tune's place. */
export {
  $drillChoice,
  chooseDrill,
  drillChoiceFor,
  drillOrderOf,
  lastBarOf,
  MOST_KEYS,
  type DrillChoice,
} from './drill-choice.ts';
export { $drillPlayed, drillPlayedOf, playDrill, playTune } from './drill-played.ts';
