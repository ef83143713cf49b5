import type { ChordScale } from '../../analysis/index.ts';
import { keysOf, type Family, type Position } from '../../hand/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import { midi, type Chord, type Midi } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';

/** A slot with a hand on it. */
export interface HeldSlot {
  readonly index: number;
  readonly slot: PlannedSlot;
  readonly chord: Chord;
  readonly chordScale: ChordScale;
  readonly position: Position;
  readonly thumbMidi: Midi;
  readonly family: Family | null;
}

/** Every slot of a lesson that has a chord, its scale and a hand. */
function heldSlots({ plan }: Lesson): HeldSlot[] {
  return plan.slots.flatMap((slot, index) => {
    const { analysed, chordScale, position, thumbMidi, family } = slot;
    const { chord } = analysed;
    if (chord === null || chordScale === null || position === null || thumbMidi === null) return [];
    return [{ index, slot, chord, chordScale, position, thumbMidi, family }];
  });
}

/**
 * The slot that an idea is about: the one that was chosen, else the first of the chord that sounds longest in the tune; undefined where
 * no chord has a hand.
 */
export function ideaSlot(lesson: Lesson, chosen: string | null): HeldSlot | undefined {
  const held = heldSlots(lesson);
  const asked = held.find(({ slot }) => slot.analysed.played.slot.id === chosen);
  if (asked !== undefined) return asked;
  const ticks = new Map<string, number>();
  for (const { chord, slot } of held) {
    const { startTicks, endTicks } = slot.analysed.played;
    ticks.set(chord.symbol, (ticks.get(chord.symbol) ?? 0) + endTicks - startTicks);
  }
  const most = Math.max(0, ...ticks.values());
  return held.find(({ chord }) => ticks.get(chord.symbol) === most);
}

/** White keys where a picture of the keyboard looks cut cleanly: C and F below, E and B above. */
const CLEAN_STARTS = [0, 5];
const CLEAN_ENDS = [4, 11];
/** Two octaves at least, so that the hand is seen to move. */
const LEAST_SEMITONES = 23;
const LOWEST_DRAWN = 21;
const HIGHEST_DRAWN = 108;

/** The stretch of keyboard that holds every hand of a lesson, cut cleanly. */
export function keyboardOf(lesson: Lesson): { readonly lowest: Midi; readonly highest: Midi } {
  return cleanStretch(heldSlots(lesson).flatMap(({ position, thumbMidi }) => keysOf(position, thumbMidi)));
}

/** The stretch of keyboard that holds some keys, two octaves at least, cut cleanly. */
export function cleanStretch(keys: readonly Midi[]): { readonly lowest: Midi; readonly highest: Midi } {
  let lowest = keys.length === 0 ? 60 : Math.min(...keys);
  let highest = keys.length === 0 ? 60 : Math.max(...keys);
  while (highest - lowest < LEAST_SEMITONES - 1) {
    if (lowest > LOWEST_DRAWN) lowest--;
    if (highest < HIGHEST_DRAWN) highest++;
  }
  while (lowest > LOWEST_DRAWN && !CLEAN_STARTS.includes(lowest % 12)) lowest--;
  while (highest < HIGHEST_DRAWN && !CLEAN_ENDS.includes(highest % 12)) highest++;
  return { lowest: midi(lowest), highest: midi(highest) };
}
