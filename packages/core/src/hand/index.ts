export type { Family, Position, Shape } from './shape.ts';
export {
  BLACK_KEY_LENGTH_MM,
  BLACK_KEY_WIDTH_MM,
  OCTAVE_MM,
  WHITE_KEY_LENGTH_MM,
  WHITE_KEY_WIDTH_MM,
  distanceMm,
  isBlack,
  keyCentreMm,
} from './keyboard.ts';
export { type HandSize, NAMED_HANDS, NARROWEST_SPAN_MM, WIDEST_SPAN_MM, sizeClassOf, spanMmOf } from './hand-size.ts';
export { BLUES_FIVE_FINGER, MINOR_PENTATONIC, MINOR_SIX_PENTATONIC, NAMED_SHAPES, USUAL_SHAPES } from './shapes.ts';
export { FINGERS, type Finger, isFinger, keysOf, positionAt, thumbKeysOn } from './position.ts';
export { coverOf, familyIn, maskOf, positionMasks, positionOver, thumbsIn } from './family.ts';
export {
  FINGERING_MODEL_IDS,
  FINGERING_RULES,
  type FingerPin,
  type Fingering,
  type FingeringModel,
  type FingeringModelId,
  type FingeringRule,
  type HandSide,
  PARNCUTT_SPANS,
  type Strike,
  balliauwSpans,
  bestFingerings,
  fingeringModel,
  imaginaryKeyRuler,
  isPracticalStep,
  rateFingering,
  spanOf,
} from './fingering/index.ts';
export { PENTACHORDS, forteNameOf, intervalVectorOf, primeFormOf, setOfSteps } from './pentachord.ts';
export { ALL_SHAPES, SHAPE_CLASSES, type ShapeClass, classOfShape, findShape, shapeFromNotes } from './shape-class.ts';
export { type ReachVerdict, reachOf, shapesInReach, stretchMm } from './reach.ts';
export { moveHundredths } from './move-time.ts';
