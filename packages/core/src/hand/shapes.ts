import { degrees, semitonesOf } from '../theory/index.ts';
import type { Shape } from './shape.ts';

/** One shape of the table: the steps follow from the spelled degrees. */
function named(name: string, spelled: string): Shape {
  const all = degrees(spelled);
  return {
    id: name.replaceAll(' ', '-'),
    name,
    steps: all.map(semitonesOf) as unknown as Shape['steps'],
    degrees: all as unknown as Shape['degrees'],
  };
}

/**
 * Shapes with a trade name, each spelled above its thumb. A new one is one row here; the first row of a transposition
 * class leads it. Common practice.
 */
export const NAMED_SHAPES: readonly Shape[] = [
  named('minor pentatonic', '1 b3 4 5 b7'),
  named('minor-six pentatonic', '1 b3 4 5 6'),
];

/** The shapes every lesson looks at first, in this order. */
export const USUAL_SHAPES: readonly Shape[] = NAMED_SHAPES.slice(0, 2);

/** The shape most of the product is about: 0 3 5 7 10. */
export const MINOR_PENTATONIC: Shape = NAMED_SHAPES[0] as Shape;
/** The shape of melodic minor and its modes: 0 3 5 7 9. */
export const MINOR_SIX_PENTATONIC: Shape = NAMED_SHAPES[1] as Shape;
