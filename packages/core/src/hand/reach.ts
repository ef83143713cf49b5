import { midi, pitchClass, pitchClassOf, type Midi, type PitchClass, type PitchClassSet } from '../theory/index.ts';
import { balliauwSpans, spanOf } from './fingering/span-table.ts';
import { imaginaryKeyRuler } from './fingering/ruler.ts';
import { spanMmOf, type HandSize } from './hand-size.ts';
import { distanceMm } from './keyboard.ts';
import { FINGERS, type Finger } from './position.ts';
import type { Position, Shape } from './shape.ts';

/** Two fingers of a position and how far apart their keys lie. */
export interface Stretch {
  readonly lower: Finger;
  readonly higher: Finger;
  readonly distanceMm: number;
}

/** How a hand finds a position: it lies well, it is near the limit (play it with care), or it is out of reach. */
export type ReachVerdict = 'easy' | 'near the limit' | 'out of reach';

export interface Reach {
  readonly verdict: ReachVerdict;
  /** From the thumb's key to the little finger's, centre to centre. */
  readonly outerMm: number;
  /** The stretches that decide the verdict; none where it is easy. */
  readonly because: readonly Stretch[];
}

/**
 * What a span, thumb to little finger, is good for on the keys, in millimetres between their centres. A span of 8.5 in
 * (216 mm) plays octaves (164 mm) free of tension and just reaches a tenth (C to E, 211 mm): so 52 mm less than the span
 * are free, 5 mm less can just be reached. The statement is published (docs/sources.md, 1); that the two
 * margins stay the same for other spans is our reading of it.
 */
const FREE_MARGIN_MM = 52;
const LIMIT_MARGIN_MM = 5;

/** Fingers 2 to 5 open by 6.0 in where 1 to 5 open by 8.5 in: 12/17. Source: docs/sources.md, 1. */
const INDEX_TO_LITTLE = 12 / 17;

/** All ten pairs of a position's fingers and how far apart their keys lie, thumb on this key. */
export function stretchesOf(shape: Shape, thumbMidi: Midi): Stretch[] {
  return FINGERS.flatMap((lower) =>
    FINGERS.filter((higher) => higher > lower).map((higher) => ({
      lower,
      higher,
      distanceMm: distanceMm(keyAt(shape, thumbMidi, lower), keyAt(shape, thumbMidi, higher)),
    })),
  );
}

/** How wide a position opens the hand: from the thumb's key to the little finger's, centre to centre, in millimetres. */
export function stretchMm(position: Position): number {
  const thumb = lowThumb(pitchClassOf(position.thumb));
  return distanceMm(thumb, keyAt(position.shape, thumb, 5));
}

/**
 * How a hand finds a shape with its thumb on a note. Two measures, the worse counts: the span of the whole hand in
 * millimetres, and for each two fingers the practical span of Balliauw et al. 2017 for the hand's size, whose last step
 * counts as near the limit. A figure for the usual hand and no promise: hands differ, and pain means stop.
 * @example reachOf(MINOR_PENTATONIC, pitchClass(0), 'medium').verdict // → 'easy'
 */
export function reachOf(shape: Shape, thumb: PitchClass, hand: HandSize): Reach {
  const thumbMidi = lowThumb(thumb);
  const spanMm = spanMmOf(hand);
  const table = balliauwSpans(hand);
  const near: Stretch[] = [];
  const beyond: Stretch[] = [];
  for (const stretch of stretchesOf(shape, thumbMidi)) {
    const { lower, higher } = stretch;
    const steps = imaginaryKeyRuler(keyAt(shape, thumbMidi, lower), keyAt(shape, thumbMidi, higher));
    const { maxPractical } = spanOf(table, lower, higher);
    const ofWhole = lower === 1 && higher === 5 ? 1 : lower === 2 && higher === 5 ? INDEX_TO_LITTLE : null;
    const limitMm = ofWhole === null ? Number.POSITIVE_INFINITY : spanMm * ofWhole - LIMIT_MARGIN_MM;
    const freeMm = lower === 1 && higher === 5 ? spanMm - FREE_MARGIN_MM : Number.POSITIVE_INFINITY;
    if (steps > maxPractical || stretch.distanceMm > limitMm) beyond.push(stretch);
    else if (steps === maxPractical || stretch.distanceMm > freeMm) near.push(stretch);
  }
  const verdict = beyond.length > 0 ? 'out of reach' : near.length > 0 ? 'near the limit' : 'easy';
  return {
    verdict,
    outerMm: distanceMm(thumbMidi, keyAt(shape, thumbMidi, 5)),
    because: beyond.length > 0 ? beyond : near,
  };
}

/** Thumbs at which the shape is within the hand's reach, as a mask of pitch classes; 0 where the hand rules the shape out. */
export function thumbsInReach(shape: Shape, hand: HandSize): PitchClassSet {
  let mask = 0;
  for (let thumb = 0; thumb < 12; thumb++) {
    if (reachOf(shape, pitchClass(thumb), hand).verdict !== 'out of reach') mask |= 1 << thumb;
  }
  return mask as PitchClassSet;
}

/** Those of the shapes that lie within the hand's reach at every thumb. */
export function shapesInReach(shapes: readonly Shape[], hand: HandSize): Shape[] {
  return shapes.filter((shape) => thumbsInReach(shape, hand) === 0xfff);
}

/** A key for the thumb, low enough that the whole hand stays on the keyboard; only its place in the octave matters. */
function lowThumb(thumb: PitchClass): Midi {
  return midi(48 + thumb);
}

function keyAt(shape: Shape, thumbMidi: Midi, finger: Finger): Midi {
  return midi(thumbMidi + (shape.steps[finger - 1] as number));
}
