export * from './chord-scale.ts';
export * from './analysis.ts';
