export * from './drill-kind.ts';
export { DRILLS } from './kinds.ts';
export { FINGER_PATTERNS } from './finger-patterns.ts';
export { twoTones } from './guide-tones.ts';
export * from './words.ts';
export { drawMotiveFor, motiveIn } from './motive-place.ts';
