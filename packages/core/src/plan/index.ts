export * from './plan.ts';
export * from './outside-curve.ts';
export * from './moment.ts';
export { ROUTE_COST, outsidePoints } from './route-cost.ts';
export * from './route.ts';
export * from './pin-issues.ts';
export * from './family-move.ts';
export * from './shape-demand.ts';
export * from './shape-search.ts';
