import type { AnalysedSlot, Analysis, ChordScale } from '../../analysis/index.ts';
import { midi, pitchAt, pitchClassOf, type Midi, type NoteName, type Pitch } from '../../theory/index.ts';
import { isClear } from './low-interval.ts';
import { voicingForms } from './voicing-form.ts';
import { ownVoicing, type OwnKeys } from './own-voicing.ts';
import { VOICING_KINDS, type UpperTriad, type VoicingFormName, type VoicingKind } from './voicing-kind.ts';

/**
 * Where the left hand comps: C3 to A4. Below it a close voicing is mud, above it the hand is in the soloist's way. Common
 * practice; the edges are our own choice.
 */
export const LOWEST_VOICING = 48;
export const HIGHEST_VOICING = 69;

/**
 * Each kind's register, lowest and highest key. Shells have the root lowest and lie lower; two hands reach up to where the melody
 * would be. Our own choice.
 */
const REGISTERS: Readonly<Record<VoicingKind, readonly [number, number]>> = {
  'guide tones': [LOWEST_VOICING, 67],
  shells: [40, 64],
  rootless: [LOWEST_VOICING, HIGHEST_VOICING],
  'two hands': [40, 81],
  quartal: [LOWEST_VOICING, 72],
  'upper structures': [45, 81],
};

/** The left hand's own highest key where the right has one too: the hands do not cross over the middle of the staff. */
const HIGHEST_LEFT = 66;

/**
 * The highest key that reads well in the bass clef: F4, over two ledger lines. A voicing is below it where it finds a place there. Common
 * practice.
 */
export const HIGHEST_READ_LEFT = 65;

/** Costs of a voicing and of the way from one to the next; integers, so that every machine decides alike. Our own judgement. */
const COST = {
  /** A semitone by which a voice moves. */
  semitone: 4,
  /** The highest voice is heard: its motion counts more. */
  topSemitone: 2,
  /** A semitone between the voicing's middle and the register's. */
  offMiddle: 1,
  /** A semitone in which a voicing reaches up to the right hand's lowest note over the slot, or past it. */
  underRightHand: 12,
  /** A half step at the top: it bites. */
  topHalfStep: 6,
} as const;

/** What a semitone of motion weighs where least motion comes before everything else. */
const MOTION_FIRST = 1_000_000;

/** A chord as the hands hold it. */
export interface Voicing {
  readonly slotIndex: number;
  readonly form: VoicingFormName;
  readonly triad: UpperTriad | null;
  /** From the lowest up, spelled as the chord spells them. */
  readonly pitches: readonly Pitch[];
  readonly keys: readonly Midi[];
  /** How many of them, from the lowest, the left hand plays. */
  readonly left: number;
}

interface Candidate {
  readonly voicing: Voicing;
  readonly cost: number;
}

interface Reached extends Candidate {
  readonly total: number;
  readonly before: Reached | null;
}

/** Keys for notes stacked as closely as they go, the first at a key or above it. */
function stacked(notes: readonly NoteName[], lowest: number): Midi[] {
  const keys: Midi[] = [];
  let next = lowest;
  for (const note of notes) {
    while (next % 12 !== pitchClassOf(note)) next++;
    keys.push(midi(next));
    next++;
  }
  return keys;
}

/** What a voicing costs by itself. Doubled distances keep the middle between two keys an integer. */
export function standingCost(keys: readonly Midi[], kind: VoicingKind, ceiling: number): number {
  const [low, high] = REGISTERS[kind];
  const bottom = keys[0] ?? low;
  const top = keys.at(-1) ?? high;
  const second = keys.at(-2);
  const bites = second !== undefined && top - second === 1 ? COST.topHalfStep : 0;
  return (
    COST.offMiddle * Math.abs(bottom + top - low - high) +
    COST.underRightHand * Math.max(0, top - (ceiling - 1)) +
    bites
  );
}

/** Every way a slot's chord may lie in a kind's register, clear in its low intervals where any way is. */
export function waysToVoice(
  slot: AnalysedSlot,
  slotIndex: number,
  kind: VoicingKind,
  played: ChordScale | null = null,
): readonly Voicing[] {
  const [low, high] = REGISTERS[kind];
  const ways = voicingForms(slot, kind, played).flatMap(({ name, notes, left, triad }) => {
    const found: Voicing[] = [];
    const first = notes[0];
    if (first === undefined) return found;
    for (let key = low; key <= high; key++) {
      if (key % 12 !== pitchClassOf(first)) continue;
      const under = stacked(notes.slice(0, left), key);
      const above = (under.at(-1) ?? key) + 1;
      // the right hand may leave an octave between
      for (const from of left < notes.length ? [above, above + 12] : [above]) {
        const keys = [...under, ...stacked(notes.slice(left), from)];
        const isTooHigh = (keys.at(-1) ?? key) > high || (left < notes.length && (under.at(-1) ?? key) > HIGHEST_LEFT);
        if (isTooHigh) continue;
        const pitches = keys.map((each, place) => pitchAt(notes[place] as NoteName, each));
        found.push({ slotIndex, form: name, triad, pitches, keys, left });
      }
    }
    return found;
  });
  const clear = ways.filter(({ keys }) => isClear(keys));
  return clear.length > 0 ? clear : ways;
}

/** Those of a slot's ways whose left hand reads well in the bass clef; all where none does. */
export function readableWays(ways: readonly Voicing[]): readonly Voicing[] {
  const readable = ways.filter(({ keys, left }) => (keys[left - 1] ?? 0) <= HIGHEST_READ_LEFT);
  return readable.length > 0 ? readable : ways;
}

/** How far the voices move, lowest to lowest and highest to highest; a voice that comes or goes moves to or from the nearest. */
export function motionBetween(from: readonly Midi[], to: readonly Midi[]): number {
  const [few, many] = from.length < to.length ? [from, to] : [to, from];
  let moved = 0;
  // asked for every pair of ways: plain loops
  for (let place = 0; place < many.length; place++) {
    const key = many[place] as number;
    let least = few.length === many.length ? Math.abs(key - (few[place] as number)) : Number.POSITIVE_INFINITY;
    if (few.length < many.length) {
      for (const other of few) least = Math.min(least, Math.abs(key - other));
    }
    moved += least;
  }
  return moved;
}

/** What the way from one voicing to the next costs a hand that comps. */
export function voiceMotion(from: readonly Midi[], to: readonly Midi[]): number {
  return COST.semitone * motionBetween(from, to) + COST.topSemitone * Math.abs((from.at(-1) ?? 0) - (to.at(-1) ?? 0));
}

/** A chord's keys that a teacher fixed. */
export interface PinnedKeys {
  readonly slotIndex: number;
  readonly keys: readonly number[];
  readonly own?: OwnKeys;
}

/**
 * The voicing that a pin names: of the asked kind if it can be, else of any other, else the teacher's own keys where they fit.
 * @returns undefined where the chord has no such voicing
 */
export function pinnedVoicing(
  slot: AnalysedSlot,
  { slotIndex, keys, own }: PinnedKeys,
  kind: VoicingKind,
  played: ChordScale | null,
): Voicing | undefined {
  const kinds = [kind, ...VOICING_KINDS.filter((other) => other !== kind)];
  const ways = kinds.flatMap((each) => waysToVoice(slot, slotIndex, each, played));
  // another key may take it over the register's edge
  for (const octaves of own === undefined ? [0, -12, 12] : [0]) {
    const way = ways.find(
      (voicing) =>
        voicing.keys.length === keys.length &&
        voicing.keys.every((key, place) => key === (keys[place] as number) + octaves),
    );
    if (way !== undefined) return way;
  }
  return own === undefined ? undefined : ownVoicing(slot, { slotIndex, keys, own }, played);
}

/** How voicings are led. */
export interface LeadingOptions {
  /** For each slot the right hand's lowest key over it, where it plays; the voicing stays below where it can. */
  readonly ceilings?: readonly (number | undefined)[];
  /** For each slot the chord-scale the right hand plays; its colours are the voicing's where they agree with the chord. */
  readonly scales?: readonly (ChordScale | null)[];
  readonly pins?: readonly PinnedKeys[];
  /** 'motion': the least motion there is, whatever else; 'register': motion weighed against where the hand lies well. */
  readonly first?: 'motion' | 'register';
}

/**
 * One voicing for every slot that has a chord, undefined for N.C., led so that the voices move least: exact, by
 * dynamic programming over all forms and octaves in the register. Ties go to the form listed first, then to the lower octave.
 * A pin that names no voicing of its chord is passed over.
 * @example leadVoicings(analysis, 'rootless')[0]?.form // → 'B'
 */
export function leadVoicings(
  analysis: Analysis,
  kind: VoicingKind,
  { ceilings = [], scales = [], pins = [], first = 'register' }: LeadingOptions = {},
): readonly (Voicing | undefined)[] {
  const costBetween = (from: readonly Midi[], to: readonly Midi[]): number =>
    first === 'motion' ? MOTION_FIRST * motionBetween(from, to) : voiceMotion(from, to);
  const steps = analysis.slots.map((slot, index): Candidate[] => {
    const played = scales[index] ?? null;
    const pin = pins.findLast(({ slotIndex }) => slotIndex === index);
    const fixed = pin === undefined ? undefined : pinnedVoicing(slot, pin, kind, played);
    const ways = fixed === undefined ? readableWays(waysToVoice(slot, index, kind, played)) : [fixed];
    const ceiling = ceilings[index] ?? Number.MAX_SAFE_INTEGER;
    return ways.map((voicing) => ({ voicing, cost: standingCost(voicing.keys, kind, ceiling) }));
  });
  let reached: Reached[] = [];
  for (const candidates of steps) {
    if (candidates.length === 0) continue;
    const before = reached;
    reached = candidates.map((candidate): Reached => {
      let best: Reached | null = null;
      let total = before.length === 0 ? candidate.cost : Number.POSITIVE_INFINITY;
      for (const other of before) {
        const cost = other.total + costBetween(other.voicing.keys, candidate.voicing.keys) + candidate.cost;
        if (cost < total) {
          total = cost;
          best = other;
        }
      }
      return { ...candidate, total, before: best };
    });
  }
  const voicings: (Voicing | undefined)[] = analysis.slots.map(() => undefined);
  let last: Reached | null = null;
  for (const each of reached) if (last === null || each.total < last.total) last = each;
  for (; last !== null; last = last.before) voicings[last.voicing.slotIndex] = last.voicing;
  return voicings;
}
