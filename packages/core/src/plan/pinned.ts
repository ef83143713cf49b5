import type { AnalysedSlot, ChordScale } from '../analysis/index.ts';
import { familyIn, findShape, maskOf, type Family, type Position, type Shape } from '../hand/index.ts';
import { containsSet, midi, pitchClass, pitchClassOf, transposeSet, type Midi } from '../theory/index.ts';
import type { PlanPins } from './plan.ts';

/** What a teacher fixed for one played slot, read. Pins that name nothing in it, or no longer fit, are left out: see planPinIssues. */
export interface PinnedSlot {
  readonly chordScale: ChordScale | null;
  readonly place: { readonly shape: Shape; readonly thumbMidi: Midi } | null;
}

/** The highest thumb a pin can name: the whole position must have MIDI notes. */
export const HIGHEST_PINNED_THUMB = 127 - 11;

const isOf =
  ({ played }: AnalysedSlot) =>
  (pin: { readonly slot: string; readonly pass: number }): boolean =>
    pin.slot === played.slot.id && pin.pass === played.playedBar.pass;

/** The pins of a slot. */
export function pinsOf(slot: AnalysedSlot, pins: PlanPins): PinnedSlot {
  const scalePin = pins.chordScales.findLast(isOf(slot));
  const placePin = pins.positions.findLast(isOf(slot));
  const shape = placePin === undefined ? undefined : findShape(placePin.shape);
  const isPlayable =
    placePin !== undefined &&
    Number.isInteger(placePin.thumbMidi) &&
    placePin.thumbMidi >= 0 &&
    placePin.thumbMidi <= HIGHEST_PINNED_THUMB;
  const chordScale = slot.chordScales.find((each) => each.id === scalePin?.chordScale) ?? null;
  if (shape === undefined || !isPlayable) return { chordScale, place: null };
  const place = { shape, thumbMidi: midi(placePin.thumbMidi) };
  return { chordScale, place: fits(place, slot, chordScale) ? place : null };
}

/**
 * Whether a place still fits its slot: it is in the chord-scale pinned there, else in one of the slot's ladder. The chord
 * under a pin may have been rewritten since the pin was set.
 */
export function fits(
  place: NonNullable<PinnedSlot['place']>,
  { chordScales }: AnalysedSlot,
  chordScale: ChordScale | null,
): boolean {
  return (chordScale === null ? chordScales : [chordScale]).some((each) => liesIn(place, each));
}

/** Whether a pinned position lies inside a chord-scale. */
export function liesIn(place: NonNullable<PinnedSlot['place']>, { set }: ChordScale): boolean {
  return containsSet(set, transposeSet(maskOf(place.shape), place.thumbMidi));
}

/**
 * The pinned position, spelled as its family in the chord-scale.
 * @throws RangeError where it does not lie in the notes; pinsOf passes such a pin over.
 */
export function pinnedPosition(
  { shape, thumbMidi }: NonNullable<PinnedSlot['place']>,
  { notes, kept }: ChordScale,
): { readonly family: Family; readonly position: Position } {
  const family = familyIn(shape, notes, kept);
  const thumb = pitchClass(thumbMidi);
  const position = family.positions.find((each) => pitchClassOf(each.thumb) === thumb);
  if (position === undefined) throw new RangeError('place must lie in the notes');
  return { family, position };
}
