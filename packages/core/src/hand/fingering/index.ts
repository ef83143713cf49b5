export { PARNCUTT_SPANS, balliauwSpans, spanOf } from './span-table.ts';
export { imaginaryKeyRuler } from './ruler.ts';
export {
  FINGERING_MODEL_IDS,
  FINGERING_RULES,
  type FingeringModel,
  type FingeringModelId,
  type FingeringRule,
  fingeringModel,
} from './model.ts';
export type { HandSide } from './rules.ts';
export type { Strike } from './event-cost.ts';
export { type FingerPin, type Fingering, bestFingerings, rateFingering } from './fingering.ts';
export { isPracticalStep } from './practical-step.ts';
