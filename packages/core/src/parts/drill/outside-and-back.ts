import type { ChordScale } from '../../analysis/index.ts';
import { familyIn, reachOf, USUAL_SHAPES, type Finger, type HandSize, type Position } from '../../hand/index.ts';
import { containsSet, pitchClassOf, setOfNotes, sizeOf, type Midi, type PitchClassSet } from '../../theory/index.ts';
import type { ChorusLevel } from '../chorus/level.ts';
import type { DrillKind, Passage } from './drill-kind.ts';
import { cellOf, fingersThrough, inPosition, nearestThumb, nearestTone, noteUnder } from './drill-note.ts';
import { barOver, eachChordOnce, isHeld, type DrilledChord, type HeldSlot } from './passage.ts';

const UP_AND_DOWN: readonly Finger[] = [1, 2, 3, 4, 5, 4, 3, 2];

interface OutsidePlace {
  readonly chordScale: ChordScale;
  readonly position: Position;
  readonly thumbMidi: Midi;
}

/**
 * Where the hand is in a scale, as near as may be: its own shape first, so that the fingers stay and only the hand moves.
 * @param serves what the position must be good for
 */
function placeIn(
  slot: HeldSlot,
  chordScale: ChordScale,
  hand: HandSize,
  serves: (position: Position) => boolean,
): OutsidePlace | undefined {
  for (const shape of [slot.position.shape, slot.family.shape, ...USUAL_SHAPES]) {
    const places = familyIn(shape, chordScale.notes, chordScale.kept)
      .positions.filter(serves)
      .filter((each) => reachOf(each.shape, pitchClassOf(each.thumb), hand).verdict !== 'out of reach')
      .map((position) => ({ chordScale, position, thumbMidi: nearestThumb(position.thumb, slot.thumbMidi) }));
    const way = ({ thumbMidi }: OutsidePlace): number => Math.abs(thumbMidi - slot.thumbMidi);
    const [nearest] = places.toSorted((a, b) => way(a) - way(b) || a.thumbMidi - b.thumbMidi);
    if (nearest !== undefined) return nearest;
  }
  return undefined;
}

/** Where the hand is at home: the route's place where that lies inside and holds a tone of the chord, else the nearest that does. */
function insideSlot(slot: HeldSlot, hand: HandSize): HeldSlot | undefined {
  const holdsTone = (chordScale: ChordScale) => (position: Position) =>
    (position.set & setOfNotes(chordScale.chordTones)) !== 0;
  if (slot.chordScale.inside && holdsTone(slot.chordScale)(slot.position)) return slot;
  for (const rung of slot.analysed.chordScales.filter(({ inside }) => inside)) {
    const place = placeIn(slot, rung, hand, holdsTone(rung));
    if (place !== undefined) return { ...inPosition(slot, place.position, place.thumbMidi), chordScale: rung };
  }
  return undefined;
}

/** How many notes of a place the inside scale does not have. */
function notesOutside(slot: HeldSlot, { position }: OutsidePlace): number {
  return sizeOf((position.set & ~slot.chordScale.set) as PitchClassSet);
}

/**
 * Where the hand goes outside: at level 1 the nearest rung of the ladder with two notes that the inside scale does not have, so that it is
 * heard, at level 4 the farthest; a rung with one such note where there is no other.
 */
function outsidePlace(slot: HeldSlot, hand: HandSize, level: ChorusLevel): OutsidePlace | undefined {
  const all = slot.analysed.chordScales
    .filter(({ inside, scale }) => !inside && scale.kind.family !== 'bebop')
    .flatMap((each) => placeIn(slot, each, hand, ({ set }) => !containsSet(slot.chordScale.set, set)) ?? []);
  const heard = all.filter((each) => notesOutside(slot, each) > 1);
  const open = heard.length > 0 ? heard : all;
  return open[Math.floor(((level - 1) * (open.length - 1)) / 3)];
}

/** Up the position to a chord tone, which is held to the end of the bar. */
function writeHome(slot: HeldSlot) {
  const { startTicks, endTicks } = slot.analysed.played;
  const cell = cellOf(slot);
  const run = ([1, 2, 3, 4] as const).filter((_, step) => startTicks + (step + 2) * cell <= endTicks);
  const home = nearestTone(slot, run.length === 4 ? 5 : 3) ?? 1;
  const way = run.map((finger, step) => noteUnder(slot, finger, startTicks + step * cell, cell));
  // not the same key twice running
  if (way.at(-1)?.finger === home) way.pop();
  const at = startTicks + way.length * cell;
  return [...way, noteUnder(slot, home, at, endTicks - at)];
}

function outAndBack({ source, slot }: DrilledChord, place: OutsidePlace): Passage {
  const outside = { ...inPosition(slot, place.position, place.thumbMidi), chordScale: place.chordScale };
  const { name, move } = place.chordScale;
  return {
    label: { code: 'drill.outside', args: { scale: name, move } },
    bars: [barOver(source, slot), barOver(source, outside), barOver(source, slot)],
    write: (slots) =>
      slots.filter(isHeld).flatMap((each, bar) => (bar === 2 ? writeHome(each) : fingersThrough(each, UP_AND_DOWN))),
  };
}

/** Inside, a rung outside, and back to a chord tone: three bars, the fingers the same. */
export const outsideAndBack: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { hand, level }) =>
    eachChordOnce(bars).flatMap(({ source, slot: planned }) => {
      const slot = insideSlot(planned, hand);
      const place = slot === undefined ? undefined : outsidePlace(slot, hand, level);
      return slot === undefined || place === undefined ? [] : [outAndBack({ source, slot }, place)];
    }),
};
