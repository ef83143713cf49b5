export * from './analysis-report.ts';
export * from './as-written.ts';
export * from './drill-report.ts';
export * from './parts-report.ts';
export * from './own-shape-report.ts';
export * from './positions-report.ts';
export * from './route-report.ts';
export * from './shapes-report.ts';
