export { DRILL_KINDS, type DrillKind, type DrillKindId, type Passage, type SourceBar } from './drill-kind.ts';
export { DRILLS } from './kinds.ts';
export { twoTones } from './guide-tones.ts';
export { DRILL_WORDS, adviceOfPassage, nameOfPassage, wordsOfPassage } from './words.ts';
export { drawMotiveFor, motiveIn } from './motive-place.ts';
