import type { AnalysedSlot, Analysis } from '../../analysis/index.ts';
import { midi, pitchAt, pitchClassOf, type Midi, type NoteName, type Pitch } from '../../theory/index.ts';
import { voicingForms, type VoicingFormName, type VoicingStyle } from './voicing-form.ts';

/**
 * Where the left hand comps: C3 to A4. Below it a close voicing is mud, above it the hand is in the soloist's way. Common
 * practice; the edges are our own choice.
 */
export const LOWEST_VOICING = 48;
export const HIGHEST_VOICING = 69;
/** Shells have the root lowest and lie lower: E2 to E4. Our own choice. */
const LOWEST_SHELL = 40;
const HIGHEST_SHELL = 64;

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

/** A chord as the hand holds it. */
export interface Voicing {
  readonly slotIndex: number;
  readonly form: VoicingFormName;
  /** From the lowest up, spelled as the chord spells them. */
  readonly pitches: readonly Pitch[];
  readonly keys: readonly Midi[];
}

interface Candidate {
  readonly voicing: Voicing;
  readonly cost: number;
}

interface Reached extends Candidate {
  readonly total: number;
  readonly before: Reached | null;
}

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

/** A style's register, lowest and highest key. */
function registerOf(style: VoicingStyle): readonly [number, number] {
  return style === 'shells' ? [LOWEST_SHELL, HIGHEST_SHELL] : [LOWEST_VOICING, HIGHEST_VOICING];
}

/** What a voicing costs by itself. Doubled distances keep the middle between two keys an integer. */
export function standingCost(keys: readonly Midi[], style: VoicingStyle, ceiling: number): number {
  const [low, high] = registerOf(style);
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

function candidatesOf(slot: AnalysedSlot, index: number, style: VoicingStyle, ceiling: number): Candidate[] {
  const [low, high] = registerOf(style);
  return voicingForms(slot, style).flatMap(({ name, notes }) => {
    const found: Candidate[] = [];
    const first = notes[0];
    if (first === undefined) return found;
    for (let key = low; key <= high; key++) {
      if (key % 12 !== pitchClassOf(first)) continue;
      const keys = stacked(notes, key);
      if ((keys.at(-1) ?? key) > high) continue;
      const pitches = keys.map((each, place) => pitchAt(notes[place] as NoteName, each));
      found.push({
        voicing: { slotIndex: index, form: name, pitches, keys },
        cost: standingCost(keys, style, ceiling),
      });
    }
    return found;
  });
}

/** How far the voices move, lowest to lowest and highest to highest; a voice that comes or goes moves to or from the nearest. */
export function voiceMotion(from: readonly Midi[], to: readonly Midi[]): number {
  const [few, many] = from.length < to.length ? [from, to] : [to, from];
  let cost = 0;
  for (const [place, key] of many.entries()) {
    const nearest =
      few.length === many.length
        ? Math.abs(key - (few[place] as number))
        : Math.min(...few.map((other) => Math.abs(key - other)));
    cost += COST.semitone * nearest;
  }
  return cost + COST.topSemitone * Math.abs((from.at(-1) ?? 0) - (to.at(-1) ?? 0));
}

/**
 * One voicing for every slot that has a chord, undefined for N.C., led so that the voices move least: exact, by
 * dynamic programming over all forms and octaves in the register. Ties go to the form listed first, then to the lower octave.
 * @param ceilings for each slot the right hand's lowest key over it, where it plays; the voicing stays below where it can
 * @example leadVoicings(analysis, 'rootless')[0]?.form // → 'A'
 */
export function leadVoicings(
  analysis: Analysis,
  style: VoicingStyle,
  ceilings: readonly (number | undefined)[] = [],
): readonly (Voicing | undefined)[] {
  const steps = analysis.slots.map((slot, index) =>
    candidatesOf(slot, index, style, ceilings[index] ?? Number.MAX_SAFE_INTEGER),
  );
  let reached: Reached[] = [];
  for (const candidates of steps) {
    if (candidates.length === 0) continue;
    const before = reached;
    reached = candidates.map((candidate): Reached => {
      let best: Reached | null = null;
      let total = before.length === 0 ? candidate.cost : Number.POSITIVE_INFINITY;
      for (const other of before) {
        const cost = other.total + voiceMotion(other.voicing.keys, candidate.voicing.keys) + candidate.cost;
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
