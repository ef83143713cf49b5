export * from './plan.ts';
export * from './outside-curve.ts';
export * from './route.ts';
export * from './family-move.ts';
export * from './shape-demand.ts';
export * from './shape-search.ts';
