export * from './plan.ts';
export * from './outside-curve.ts';
export * from './route.ts';
