import type { PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import {
  degreeAbove,
  guideTonesOf,
  midi,
  pitchClassOf,
  type Degree,
  type Midi,
  type NoteName,
  type PitchClass,
} from '../../theory/index.ts';
import type { ChorusLevel, Onset } from './phrase-rhythm.ts';

/** An onset with the slot whose position plays it; an anticipation has the coming one. */
export interface PlacedOnset extends Onset {
  readonly slotIndex: number;
  readonly anticipates: boolean;
  /** Whether it falls on a beat. */
  readonly onBeat: boolean;
  /** Whether it is the first note of its slot. */
  readonly opensSlot: boolean;
}

/** One finger's note at an onset. */
export interface LineNote {
  readonly finger: 1 | 2 | 3 | 4 | 5;
  readonly midi: Midi;
  readonly name: NoteName;
  readonly isChordTone: boolean;
  readonly isGuideTone: boolean;
  readonly isAvoid: boolean;
}

/** What the five fingers play over a slot. */
export interface SlotNotes {
  readonly notes: readonly LineNote[];
}

const FINGERS = [1, 2, 3, 4, 5] as const;

/** The five notes under the hand over a slot, each with what it is to the chord; null where the hand rests. */
export function notesOfSlot({ analysed, chordScale, position, thumbMidi }: PlannedSlot): SlotNotes | null {
  const { chord } = analysed;
  if (chord === null || chordScale === null || position === null || thumbMidi === null) return null;
  const classes = (notes: readonly NoteName[]): Set<PitchClass> => new Set(notes.map(pitchClassOf));
  const chordTones = new Set(chord.degrees.map((each) => pitchClassOf((chord.root + each) as NoteName)));
  const avoid = classes(chordScale.avoid.map((each) => each.note));
  const guides = new Set<Degree>(guideTonesOf(chord));
  return {
    notes: FINGERS.map((finger): LineNote => {
      const name = position.notes[finger - 1] as NoteName;
      const value = pitchClassOf(name);
      const isGuideTone = [...guides].some((guide) => pitchClassOf((chord.root + guide) as NoteName) === value);
      return {
        finger,
        midi: midi(thumbMidi + (position.shape.steps[finger - 1] as number)),
        name,
        isChordTone: chordTones.has(value),
        isGuideTone: isGuideTone || guides.has(degreeAbove(chord.root, name)),
        isAvoid: avoid.has(value),
      };
    }),
  };
}

/**
 * Cost of an interval between neighbours, by semitones: small ones are the rule (Weimar solos, C: 0 4.6 %, 1 27.6, 2 28.6,
 * 3 17.4, 4 9.1, 5 6.4, 6 1.5, 7 2.1, then under 1). A position has no half steps, so 2 and 3 share the lead.
 */
const INTERVAL_COST = [34, 2, 0, 2, 8, 11, 20, 20, 26, 28, 32, 36, 40] as const;
/** Wider than an octave: only where the positions leave no other way. */
const TOO_WIDE_COST = 90;

const COST = {
  /** A note that is no chord tone on a beat, by level. */
  strongTension: [14, 8, 4],
  /** The first note of a slot is no guide tone. */
  missedGuideTone: 5,
  /** An avoid note, on a beat and off it. */
  avoidOnBeat: 40,
  avoidOffBeat: 8,
  /** A semitone away from the wished contour. */
  offContour: 2,
  /** Going back to the note before the last one. */
  turnBack: 7,
  /** The widest seeded whim. */
  whim: 9,
} as const;

/** A place in the search: the last two fingers decide what may follow. */
interface Path {
  readonly note: LineNote;
  readonly before: Path | null;
  readonly cost: number;
}

function mayFollow(from: Path, to: LineNote, gap: boolean): boolean {
  const interval = Math.abs(to.midi - from.note.midi);
  // an avoid note goes by step to a chord tone, at once
  if (from.note.isAvoid && (gap || !to.isChordTone || interval === 0 || interval > 2)) return false;
  // one repetition is a gesture, two are a stutter
  return !(interval === 0 && from.before !== null && from.before.note.midi === from.note.midi);
}

function stepCost(from: Path, to: LineNote, gap: boolean): number {
  const interval = Math.abs(to.midi - from.note.midi);
  const motion = interval > 12 ? TOO_WIDE_COST : (INTERVAL_COST[interval] as number);
  const turnsBack = from.before !== null && from.before.note.midi === to.midi && interval > 0;
  return (gap ? motion >> 1 : motion) + (turnsBack ? COST.turnBack : 0);
}

function noteCost(note: LineNote, onset: PlacedOnset, level: ChorusLevel, wished: number): number {
  const strong = onset.onBeat || onset.anticipates;
  return (
    (strong && !note.isChordTone ? (COST.strongTension[level - 1] as number) : 0) +
    (onset.opensSlot && !note.isGuideTone ? COST.missedGuideTone : 0) +
    (note.isAvoid ? (strong ? COST.avoidOnBeat : COST.avoidOffBeat) : 0) +
    Math.abs(note.midi - wished) * COST.offContour
  );
}

/**
 * The cheapest line through the onsets of one phrase, exactly, with costs whimsical by seed; null where the rules leave
 * none. A line ends on a chord tone.
 * @param notesAt what the hand has at each onset
 * @param contour the wished pitch at each onset, MIDI
 */
export function cheapestLine(
  onsets: readonly PlacedOnset[],
  notesAt: readonly SlotNotes[],
  contour: readonly number[],
  level: ChorusLevel,
  random: RandomSource,
): LineNote[] | null {
  // keyed by the last two fingers, so that the best of each pair is kept
  let reached = new Map<number, Path>();
  for (const [index, onset] of onsets.entries()) {
    const next = new Map<number, Path>();
    const before = onsets[index - 1];
    const gap = before !== undefined && before.startTicks + before.durationTicks < onset.startTicks;
    const isLast = index === onsets.length - 1;
    for (const note of (notesAt[index] as SlotNotes).notes) {
      const own = noteCost(note, onset, level, contour[index] as number) + random.integer(COST.whim + 1);
      if (isLast && !note.isChordTone) continue;
      if (index === 0) next.set(note.finger, { note, before: null, cost: own });
      for (const from of reached.values()) {
        if (!mayFollow(from, note, gap)) continue;
        const cost = from.cost + own + stepCost(from, note, gap);
        const pair = from.note.finger * 6 + note.finger;
        const best = next.get(pair);
        if (best === undefined || cost < best.cost) next.set(pair, { note, before: from, cost });
      }
    }
    reached = next;
  }
  let end: Path | null = null;
  for (const path of reached.values()) if (end === null || path.cost < end.cost) end = path;
  if (end === null) return null;
  const line: LineNote[] = [];
  for (let path: Path | null = end; path !== null; path = path.before) line.unshift(path.note);
  return line;
}
