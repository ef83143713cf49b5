/** Today: steps, their ladders, what was heard, and what was practised. */
export { LADDER_ORDERS, rungOf, type LadderOrder, type PassAnswer } from './ladder.ts';
export { secondsByDay, tempoByKey, type LogEntry } from './log.ts';
export { forgetEntries, keptEntries } from './practice-log.ts';
export { saveLog } from './save-log.ts';
export { STEPS, type Step } from './steps.ts';
export {
  $criterion,
  $hurts,
  $practised,
  $today,
  chooseRung,
  countSeeking,
  endToday,
  followToday,
  itHurts,
  nextRound,
  REST_AFTER_SECONDS,
  startStep,
  takeRest,
  tellPass,
} from './today.ts';
export { isAllFound, newSearch, seek, type Search } from './until-found.ts';
