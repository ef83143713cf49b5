import { degrees, semitonesOf } from '../theory/index.ts';
import type { Shape } from './shape.ts';

/** One shape of the table: the steps follow from the spelled degrees. */
function named(name: string, spelled: string): Shape {
  const all = degrees(spelled);
  return {
    id: name.toLowerCase().replaceAll(' ', '-'),
    name,
    steps: all.map(semitonesOf) as unknown as Shape['steps'],
    degrees: all as unknown as Shape['degrees'],
  };
}

/** A blues scale under five fingers on its root, its flat fifth with it: 0 3 5 6 7. */
export const BLUES_FIVE_FINGER: Shape = named('blues five-finger', '1 b3 4 b5 5');

/**
 * Shapes with a trade name, each spelled above its thumb. A new one is one row here. The first row of a transposition
 * class leads it: the class's other rotations are named after it. Common practice; the last four names are those jazz
 * players use for the Japanese scales, from memory.
 */
export const NAMED_SHAPES: readonly Shape[] = [
  named('minor pentatonic', '1 b3 4 5 b7'),
  named('minor-six pentatonic', '1 b3 4 5 6'),
  named('major pentatonic', '1 2 3 5 6'),
  named('suspended pentatonic', '1 2 4 5 b7'),
  named('dominant pentatonic', '1 2 3 5 b7'),
  named('half-diminished pentatonic', '1 b3 4 b5 b7'),
  named('major ninth', '1 2 3 5 7'),
  named('minor ninth', '1 2 b3 5 b7'),
  named('minor flat-six pentatonic', '1 b3 4 5 b6'),
  named('major flat-six pentatonic', '1 2 3 5 b6'),
  named('dominant sharp nine', '1 #2 3 5 b7'),
  named('dominant flat nine', '1 b2 3 5 b7'),
  named('augmented ninth', '1 2 3 #5 b7'),
  named('major five-finger', '1 2 3 4 5'),
  named('minor five-finger', '1 2 b3 4 5'),
  named('Phrygian five-finger', '1 b2 b3 4 5'),
  named('Lydian five-finger', '1 2 3 #4 5'),
  named('diminished five-finger', '1 2 b3 4 b5'),
  named('whole-tone five-finger', '1 2 3 #4 #5'),
  BLUES_FIVE_FINGER,
  named('in-sen', '1 b2 4 5 b7'),
  named('in', '1 b2 4 5 b6'),
  named('hirajoshi', '1 2 b3 5 b6'),
  named('kumoi', '1 2 b3 5 6'),
];

/** The shapes every lesson looks at first, in this order. */
export const USUAL_SHAPES: readonly Shape[] = NAMED_SHAPES.slice(0, 2);

/** The shape most of the product is about: 0 3 5 7 10. */
export const MINOR_PENTATONIC: Shape = NAMED_SHAPES[0] as Shape;
/** The shape of melodic minor and its modes: 0 3 5 7 9. */
export const MINOR_SIX_PENTATONIC: Shape = NAMED_SHAPES[1] as Shape;
