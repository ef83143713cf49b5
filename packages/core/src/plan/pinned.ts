import type { AnalysedSlot, ChordScale } from '../analysis/index.ts';
import { familyIn, findShape, maskOf, positionAt, type Family, type Position, type Shape } from '../hand/index.ts';
import {
  accidentalsOf,
  containsSet,
  midi,
  pitchClass,
  pitchClassOf,
  spellingsOf,
  transposeSet,
  type Midi,
  type NoteName,
} from '../theory/index.ts';
import type { PlanPins } from './plan.ts';

/** What a teacher fixed for one played slot, read. Pins that name nothing in it are left out: see planPinIssues. */
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
  return {
    chordScale: slot.chordScales.find((each) => each.id === scalePin?.chordScale) ?? null,
    place: shape !== undefined && isPlayable ? { shape, thumbMidi: midi(placePin.thumbMidi) } : null,
  };
}

/** Whether a pinned position lies inside a chord-scale. */
export function liesIn(place: NonNullable<PinnedSlot['place']>, { set }: ChordScale): boolean {
  return containsSet(set, transposeSet(maskOf(place.shape), place.thumbMidi));
}

/** The pinned position, spelled as its family in the chord-scale; a foreign one with the fewest accidentals. */
export function pinnedPosition(
  { shape, thumbMidi }: NonNullable<PinnedSlot['place']>,
  notes: readonly NoteName[],
): { readonly family: Family; readonly position: Position } {
  const family = familyIn(shape, notes);
  const thumb = pitchClass(thumbMidi);
  const own = family.positions.find((each) => pitchClassOf(each.thumb) === thumb);
  if (own !== undefined) return { family, position: own };
  const accidentals = (position: Position): number =>
    position.notes.reduce((sum, note) => sum + Math.abs(accidentalsOf(note)), 0);
  const [simplest] = spellingsOf(thumb, 1)
    .map((name) => positionAt(shape, name))
    .sort((a, b) => accidentals(a) - accidentals(b));
  return { family, position: simplest as Position };
}
