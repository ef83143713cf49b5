export * from './score.ts';
export * from './build-score.ts';
