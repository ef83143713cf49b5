export * from './span-table.ts';
export * from './ruler.ts';
export * from './model.ts';
export type { FingeredKey, HandSide, RuleCosts } from './rules.ts';
export type { Strike } from './event-cost.ts';
export * from './fingering.ts';
export { isPracticalStep } from './practical-step.ts';
