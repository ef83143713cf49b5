import { distanceMm, isBlack, type Position } from '../hand/index.ts';
import { containsClass, pitchClassOf, sizeOf, type Midi, type PitchClassSet } from '../theory/index.ts';
import type { AvoidNote, ChordScale } from '../analysis/index.ts';
import type { HandFit } from './hand-fit.ts';

/**
 * What makes a route worse, in tenths of a millimetre: thumb travel counts as it is measured (the keyboard's centres are
 * whole or half millimetres, so the sums are exact integers), everything else by how much travel one would accept to be rid
 * of it. Our own judgement: a half step between white keys is 235, an octave 1640.
 */
export const ROUTE_COST = {
  /** The thumb on a black key: the hand moves in between the black keys. */
  blackThumb: 100,
  /** A position near the limit of this hand. */
  nearLimit: 400,
  /** An avoid note under a finger, its nearest resolution under another. */
  avoidNote: 150,
  /** An avoid note whose nearest resolution is not in the position. */
  avoidNoteFarFromHome: 300,
  /** A guide tone of the chord that the position lacks. */
  guideToneMissing: 150,
  /** The thumb outside C4 to C5, where the right hand lies best before the body. */
  offMiddle: 40,
  /** Each point by which the chord-scale is further in or out than wished. */
  offWish: 300,
  /** Each rung further up the ladder, so that of two as far outside the function's own comes first. */
  rung: 10,
  /** Staying where the hand is, by how often it has stayed before: once is rest, after that it is repetition. */
  stay: [0, 200, 400, 600],
} as const;

/** How many stays are distinguished: the last entry of `stay` counts for all further ones. */
export const STAYS = ROUTE_COST.stay.length;

/** The right hand's register: the thumb from A3 to E5, every key from F3 to F6. Our choice: above the walking bass. */
export const LOWEST_THUMB = 57;
export const HIGHEST_THUMB = 76;
export const LOWEST_KEY = 53;
export const HIGHEST_KEY = 89;

const MIDDLE_FROM = 60;
const MIDDLE_TO = 72;

/** Thumb travel in tenths of a millimetre. */
export function travelCost(from: Midi, to: Midi): number {
  return distanceMm(from, to) * 10;
}

/** What staying costs that has stayed `stays` times before. */
export function stayCost(stays: number): number {
  return ROUTE_COST.stay[Math.min(stays, STAYS - 1)] as number;
}

/** Points of outsideness for a guide tone lost: more than any number of notes outside the key. */
export const GUIDE_TONE_LOST = 6;

/** A blues scale is heard as a colour of the whole form, as another mode would be, whatever it does to a chord. Our choice. */
const BLUES_POINTS = 1;

const isBlues = ({ scale }: ChordScale): boolean => scale.kind.family === 'blues';

/**
 * How far outside a chord-scale is, as one number that orders as the pair does: guide tones lost, then notes outside the
 * key. A scale has at most five notes outside a key of seven. The blues scale stands apart, as one note outside.
 */
export function outsidePoints(chordScale: ChordScale): number {
  if (isBlues(chordScale)) return BLUES_POINTS;
  const { guideTonesLost, notesOutsideKey } = chordScale.outsideness;
  return GUIDE_TONE_LOST * guideTonesLost + notesOutsideKey;
}

/**
 * A position's avoid notes over a chord. An outside chord-scale has none here: it resolves as a whole, when the next chord
 * comes inside.
 */
function avoidNotesIn(position: Position, { avoid, inside }: ChordScale): readonly AvoidNote[] {
  return inside ? avoid.filter(({ note }) => containsClass(position.set, pitchClassOf(note))) : [];
}

/** Of a position's avoid notes how many have nowhere to go: no resolution in the position, and the next chord takes them not in. */
export function countLeftHanging(position: Position, chordScale: ChordScale, nextChord: PitchClassSet): number {
  return avoidNotesIn(position, chordScale).filter(
    ({ note, resolvesTo }) =>
      !containsClass(nextChord, pitchClassOf(note)) &&
      !resolvesTo.some((each) => containsClass(position.set, pitchClassOf(each.note))),
  ).length;
}

/** What a position's avoid notes cost: more where the nearest resolution is outside the position. */
function avoidCost(position: Position, chordScale: ChordScale): number {
  return avoidNotesIn(position, chordScale).reduce((sum, { resolvesTo: [nearest] }) => {
    const isNear = nearest !== undefined && containsClass(position.set, pitchClassOf(nearest.note));
    return sum + (isNear ? ROUTE_COST.avoidNote : ROUTE_COST.avoidNoteFarFromHome);
  }, 0);
}

/** What a position costs where it is, without the way to it. */
export function placeCost(
  place: {
    readonly chordScale: ChordScale;
    readonly rung: number;
    readonly position: Position;
    readonly thumbMidi: Midi;
  },
  ground: { readonly guideTones: PitchClassSet; readonly wish: number; readonly fit: HandFit },
): number {
  const { chordScale, rung, position, thumbMidi } = place;
  const missing = (ground.guideTones & ~position.set) as PitchClassSet;
  const isNearLimit = ground.fit.verdict(position.shape, pitchClassOf(position.thumb)) !== 'easy';
  return (
    (isBlack(thumbMidi) ? ROUTE_COST.blackThumb : 0) +
    (isNearLimit ? ROUTE_COST.nearLimit : 0) +
    avoidCost(position, chordScale) +
    // over a blues scale the chord keeps its third to itself
    (isBlues(chordScale) ? 0 : ROUTE_COST.guideToneMissing * sizeOf(missing)) +
    (thumbMidi < MIDDLE_FROM || thumbMidi > MIDDLE_TO ? ROUTE_COST.offMiddle : 0) +
    ROUTE_COST.offWish * Math.abs(outsidePoints(chordScale) - ground.wish) +
    ROUTE_COST.rung * rung
  );
}
