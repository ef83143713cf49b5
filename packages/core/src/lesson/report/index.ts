export * from './analysis-report.ts';
export * from './as-written.ts';
export * from './parts-report.ts';
export * from './positions-report.ts';
