export * from './measured-swing.ts';
export * from './perform-trio.ts';
