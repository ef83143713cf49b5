import type { AnalysedSlot, ChordScale } from '../analysis/index.ts';
import type { Family, Position } from '../hand/index.ts';
import {
  containsSet,
  degreeOnStep,
  guideTonesOf,
  midi,
  noteAbove,
  pitchClassOf,
  SCALE_KINDS,
  setOfChord,
  setOfNotes,
  type Chord,
  type Midi,
  type PitchClassSet,
} from '../theory/index.ts';
import type { HandFit } from './hand-fit.ts';
import { liesIn, pinnedPosition, type PinnedSlot } from './pinned.ts';
import {
  countLeftHanging,
  GUIDE_TONE_LOST,
  HIGHEST_KEY,
  HIGHEST_THUMB,
  LOWEST_KEY,
  LOWEST_THUMB,
  placeCost,
} from './route-cost.ts';
import { positionsInReach, type FamilyFinder } from './serving-family.ts';
import type { PathChoice } from './shortest-path.ts';

/** One thing the hand could do over a slot. */
export interface RouteChoice extends PathChoice {
  readonly chordScale: ChordScale;
  readonly family: Family;
  readonly position: Position;
  readonly thumbMidi: Midi;
}

/** What the choices of every slot share. */
export interface RouteGround {
  readonly fit: HandFit;
  readonly families: FamilyFinder;
}

interface Rung {
  readonly chordScale: ChordScale;
  readonly rung: number;
}

/**
 * Whether a scale may do without the notes of the chord that it lacks: outside, a dominant may lose its root and its
 * fifth, not a tension its symbol writes. A wish past losing guide tones asks for side-slips, which lose what they
 * lose.
 */
function maySound(chord: Chord, { missing, outsideness }: ChordScale, wish: number): boolean {
  if (missing.length === 0) return true;
  if (outsideness.guideTonesLost > 0) return wish >= GUIDE_TONE_LOST;
  if (chord.quality !== 'dominant') return false;
  const fifth = degreeOnStep(chord, 4);
  return missing.every((note) => note === chord.root || (fifth !== undefined && note === noteAbove(chord.root, fifth)));
}

/**
 * The rungs of the ladder a route may take: the first; where the wish goes outside, also those that a usual shape covers
 * (nobody is asked to learn a new shape to play outside). Not bebop scales, whose passing notes belong to lines; the blues scale
 * over I7, IV7 and V7 of a blues, though its positions lack their thirds: it is heard against them. Away from dominants not those
 * with more avoid notes than the first.
 */
function rungsOf(slot: AnalysedSlot, chord: Chord, wish: number, { families }: RouteGround): Rung[] {
  const [first] = slot.chordScales;
  return slot.chordScales
    .map((chordScale, rung) => ({ chordScale, rung }))
    .filter(({ chordScale, rung }) => {
      if (rung === 0 || first === undefined) return true;
      const { family } = chordScale.scale.kind;
      if (wish === 0 || family === 'bebop') return false;
      // it stands second over I7, IV7 and V7 of a blues, far down over any other I7
      if (family === 'blues') return chord.quality === 'dominant' && rung === 1;
      if (!families.isUsual(chordScale.set)) return false;
      const isNoRougher = chord.quality === 'dominant' || chordScale.avoid.length <= first.avoid.length;
      return isNoRougher && maySound(chord, chordScale, wish);
    });
}

function keysOfThumb(position: Position): Midi[] {
  const reach = position.shape.steps[4];
  const thumbs: Midi[] = [];
  for (let thumb = LOWEST_THUMB; thumb <= HIGHEST_THUMB; thumb++) {
    const fits = thumb >= LOWEST_KEY && thumb + reach <= HIGHEST_KEY;
    if (fits && thumb % 12 === pitchClassOf(position.thumb)) thumbs.push(midi(thumb));
  }
  return thumbs;
}

/**
 * Whether a position over an altered dominant is in a nearer rung of the ladder too: then it is named after that one, and is no
 * further outside than that. The tritone's hands over D7alt are two of D altered's.
 */
function isNamedNearer({ set }: Position, { rung }: Rung, { chordScales }: AnalysedSlot): boolean {
  const [first] = chordScales;
  if (rung <= 0 || first?.scale.kind.id !== SCALE_KINDS.altered.id) return false;
  return chordScales.slice(0, rung).some((nearer) => containsSet(nearer.set, set));
}

const placeOf = (position: Position, thumbMidi: Midi): string => `${position.shape.id}@${thumbMidi}`;

/**
 * The places a slot can take, best rung first, then along the family, then upwards. Positions that leave an avoid note
 * hanging are left out where others are left.
 * @param wish points of outsideness wished.
 * @param nextChord pitch classes of the next chord, which may take an avoid note in.
 */
export function routeChoices(
  slot: AnalysedSlot,
  pinned: PinnedSlot,
  wish: number,
  nextChord: PitchClassSet,
  ground: RouteGround,
): readonly RouteChoice[] {
  const { chord } = slot;
  const [first] = slot.chordScales;
  if (chord === null || first === undefined) return [];
  const guideTones = setOfNotes(guideTonesOf(chord).map((each) => noteAbove(chord.root, each)));
  const choiceOf = (
    rung: Rung,
    found: { family: Family; position: Position; thumbMidi: Midi },
  ): RouteChoice & { readonly hanging: number } => ({
    chordScale: rung.chordScale,
    ...found,
    place: placeOf(found.position, found.thumbMidi),
    cost: placeCost({ ...rung, ...found }, { guideTones, wish, fit: ground.fit }),
    hanging: countLeftHanging(found.position, rung.chordScale, nextChord),
  });

  if (pinned.place !== null) {
    const { place } = pinned;
    const chordScale = pinned.chordScale ?? slot.chordScales.find((each) => liesIn(place, each)) ?? first;
    const rung = { chordScale, rung: slot.chordScales.indexOf(chordScale) };
    const { family, position } = pinnedPosition(place, chordScale);
    return [choiceOf(rung, { family, position, thumbMidi: place.thumbMidi })];
  }

  const rungs =
    pinned.chordScale === null
      ? rungsOf(slot, chord, wish, ground)
      : [{ chordScale: pinned.chordScale, rung: slot.chordScales.indexOf(pinned.chordScale) }];
  return rungs.flatMap((rung) => {
    const choices = ground.families.findAll(rung.chordScale, guideTones).flatMap((family) =>
      positionsInReach(family, ground.fit)
        .filter((position) => !isNamedNearer(position, rung, slot))
        .flatMap((position) =>
          keysOfThumb(position).map((thumbMidi) => choiceOf(rung, { family, position, thumbMidi })),
        ),
    );
    const resolving = choices.filter((each) => each.hanging === 0);
    if (resolving.length > 0) return resolving;
    const least = Math.min(...choices.map((each) => each.hanging));
    return choices.filter((each) => each.hanging === least);
  });
}

/** For each slot the pitch classes of the next slot that has a chord; none after the last. */
export function nextChords(slots: readonly AnalysedSlot[]): readonly PitchClassSet[] {
  let next = 0 as PitchClassSet;
  return slots
    .toReversed()
    .map(({ chord }) => {
      const after = next;
      if (chord !== null) next = setOfChord(chord);
      return after;
    })
    .reverse();
}
