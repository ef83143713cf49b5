import {
  modulo,
  pitchClassOf,
  setOfNotes,
  transposeSet,
  type NoteName,
  type PitchClass,
  type PitchClassSet,
} from '../theory/index.ts';
import type { Family, Position, Shape } from './shape.ts';
import { spellPosition } from './thumb-spelling.ts';

/** Intervals tried for a chain, in semitones: fifths first, then the smallest. Their complements give the same chains backwards. */
const CHAIN_INTERVALS = [7, 1, 2, 3, 4, 6] as const;

const masksOfShape = new Map<number, readonly PitchClassSet[]>();

/** The shape's pitch classes with the thumb on C. */
export function maskOf(shape: Shape): PitchClassSet {
  return shape.steps.reduce((mask, step) => mask | (1 << step), 0) as PitchClassSet;
}

/** The shape's twelve positions as masks, by the thumb's pitch class; for search loops. */
export function positionMasks(shape: Shape): readonly PitchClassSet[] {
  const mask = maskOf(shape);
  let masks = masksOfShape.get(mask);
  if (masks === undefined) {
    masks = Array.from({ length: 12 }, (_, thumb) => transposeSet(mask, thumb));
    masksOfShape.set(mask, masks);
  }
  return masks;
}

/** The thumbs at which the shape lies inside the set, as a mask of pitch classes: all twelve are tried. */
export function thumbsIn(shape: Shape, set: PitchClassSet): PitchClassSet {
  const masks = positionMasks(shape);
  let thumbs = 0;
  for (let thumb = 0; thumb < 12; thumb++) if (((masks[thumb] as number) & ~set) === 0) thumbs |= 1 << thumb;
  return thumbs as PitchClassSet;
}

/** What the shape's positions inside the set hold together, as a mask. The family is complete where it equals the set. */
export function coverOf(shape: Shape, set: PitchClassSet): PitchClassSet {
  const masks = positionMasks(shape);
  let union = 0;
  for (let thumb = 0; thumb < 12; thumb++) {
    const mask = masks[thumb] as number;
    if ((mask & ~set) === 0) union |= mask;
  }
  return union as PitchClassSet;
}

/** Thumbs in their order, and the interval between neighbours where they form a chain. */
export interface ThumbOrder {
  readonly thumbs: readonly PitchClass[];
  readonly chainSemitones: number | null;
}

/**
 * Orders thumbs along their chain: each a constant interval above the one before, fifths where fifths do it. A ring,
 * whose last leads back to its first, starts at the root or the next thumb above it. Where there is no chain (one thumb
 * is none) they ascend from the root.
 * @param thumbs a mask of pitch classes.
 */
export function orderThumbs(thumbs: PitchClassSet, root: PitchClass): ThumbOrder {
  const ascending: PitchClass[] = [];
  for (let above = 0; above < 12; above++) {
    const each = ((root + above) % 12) as PitchClass;
    if ((thumbs & (1 << each)) !== 0) ascending.push(each);
  }
  if (ascending.length < 2) return { thumbs: ascending, chainSemitones: null };
  for (const interval of CHAIN_INTERVALS) {
    const starts = ascending.filter((each) => (thumbs & (1 << modulo(each - interval, 12))) === 0);
    // more than one thumb without another below it: more than one chain
    if (starts.length > 1) continue;
    const start = starts[0] ?? ascending[0]!;
    const chain: PitchClass[] = [start];
    for (
      let next = (start + interval) % 12;
      next !== start && (thumbs & (1 << next)) !== 0;
      next = (next + interval) % 12
    ) {
      chain.push(next as PitchClass);
    }
    if (chain.length === ascending.length) return { thumbs: chain, chainSemitones: interval };
  }
  return { thumbs: ascending, chainSemitones: null };
}

/**
 * A shape on a thumb over a chord, spelled as its family in the chord-scale is; a foreign one with the fewest accidentals.
 * @param kept names that hold over the chord (`ChordScale.kept`).
 * @example positionOver(MINOR_SIX_PENTATONIC, pitchClass(3), notes, kept) // over D7alt: E♭ F♯ A♭ B♭ C
 */
export function positionOver(
  shape: Shape,
  thumb: PitchClass,
  notes: readonly NoteName[],
  kept: readonly NoteName[],
): Position {
  const spelled = spellPosition(shape, thumb, notes, kept) as unknown as Position['notes'];
  return { shape, thumb: spelled[0], notes: spelled, set: setOfNotes(spelled) };
}

/**
 * All positions of a shape inside a chord-scale, found by trying all twelve thumbs.
 * @param notes the chord-scale from its root up, spelled; any set of notes will do.
 * @param kept names that hold over the chord, whatever the scale calls them (`ChordScale.kept`); none without a chord.
 * @throws RangeError where there are no notes.
 * @example familyIn(MINOR_PENTATONIC, notesOfKey(parseKey('F major')!)).positions.map((each) => formatNoteName(each.thumb))
 * // → ['G', 'D', 'A']
 */
export function familyIn(shape: Shape, notes: readonly NoteName[], kept: readonly NoteName[] = []): Family {
  const root = notes[0];
  if (root === undefined) throw new RangeError('notes must not be empty');
  const set = setOfNotes(notes);
  const { thumbs, chainSemitones } = orderThumbs(thumbsIn(shape, set), pitchClassOf(root));
  const positions = thumbs.map((thumb) => positionOver(shape, thumb, notes, kept));
  return {
    shape,
    positions,
    chainSemitones,
    complete: coverOf(shape, set) === set,
  };
}
