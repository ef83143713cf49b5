export * from './performance.ts';
