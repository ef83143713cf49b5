export * from './take.ts';
export * from './finding.ts';
export * from './hands.ts';
export * from './align.ts';
export * from './judge.ts';
export * from './words.ts';
export { barOneSeconds, type StartSigns } from './start.ts';
export * from './take-document.ts';
