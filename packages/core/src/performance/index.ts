export * from './performance.ts';
export * from './swing.ts';
export * from './perform.ts';
export * from './trio/index.ts';
