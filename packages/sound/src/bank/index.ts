export * from './bank.ts';
export * from './instrument.ts';
