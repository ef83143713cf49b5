export * from './bank.ts';
export * from './instrument.ts';
export * from './recordings.ts';
