export * from './score.ts';
