import type { Plan, PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import type { ChorusNote } from './chorus.ts';
import { OTHERS_IN } from './growth.ts';
import type { PhrasePlan } from './phrase-plan.ts';
import { phrasesOf } from './phrase.ts';
import { slotAt } from './slot-at.ts';

/** The lowest and highest key a chorus uses: it stays over the left hand and where a line still sings. Common practice. */
export const LOWEST_CHORUS_KEY = 58;
export const HIGHEST_CHORUS_KEY = 93;

function slotsOfPhrase(plan: Plan, { onsets }: PhrasePlan): PlannedSlot[] {
  const [first, last] = [onsets[0], onsets.at(-1)];
  if (first === undefined || last === undefined) return [];
  // an anticipation at its end may belong to the slot after
  return plan.slots.slice(slotAt(plan, first.startTicks), slotAt(plan, last.startTicks) + 2);
}

/** From the last phrase's hand to the next one's no more than an octave, but to the peak: after a breath the ear still has the old place. Our own. */
const WIDEST_MOVE = 12;

/** How far the hand goes from one phrase's last slot to another's first, in semitones; 0 where one has no place. */
function moveBetween(
  before: readonly PlannedSlot[] | undefined,
  octavesBefore: number,
  now: readonly PlannedSlot[],
  octaves: number,
): number {
  const [from, to] = [before?.findLast((each) => each.thumbMidi !== null), now.find((each) => each.thumbMidi !== null)];
  if (from?.thumbMidi == null || to?.thumbMidi == null) return 0;
  return to.thumbMidi + 12 * octaves - from.thumbMidi - 12 * octavesBefore;
}

/** How far outside a slot's chord-scale is, guide tones first. */
function outsideOf({ chordScale }: PlannedSlot): number {
  return chordScale === null ? 0 : chordScale.outsideness.guideTonesLost * 12 + chordScale.outsideness.notesOutsideKey;
}

function fits(slots: readonly PlannedSlot[], octaves: number): boolean {
  return slots.every(({ thumbMidi, position }) => {
    if (thumbMidi === null || position === null) return true;
    const thumb = thumbMidi + 12 * octaves;
    return thumb >= LOWEST_CHORUS_KEY && thumb + (position.shape.steps[4] as number) <= HIGHEST_CHORUS_KEY;
  });
}

/**
 * In which octave each phrase lies, counted from the route's place. The phrase where the changes go farthest outside is the
 * peak (two thirds through, where nothing does), and is an octave higher; now and then another one does. Where the keys above
 * end, an octave lower.
 */
export function octavesOf(plan: Plan, phrases: readonly PhrasePlan[], growth: number, random: RandomSource): number[] {
  const slots = phrases.map((phrase) => slotsOfPhrase(plan, phrase));
  const heights = slots.map((each) => Math.max(0, ...each.map(outsideOf)));
  const highest = Math.max(0, ...heights);
  const moves = slots.map((each) => (fits(each, 1) ? 1 : fits(each, -1) ? -1 : 0));
  const target = Math.floor((phrases.length * 2) / 3);
  // the farthest outside of those that can move; of equals the last, or the nearest to two thirds where nothing goes outside
  const rank = (index: number): number => (highest > 0 ? index : -Math.abs(index - target));
  let peak = -1;
  for (const [index, height] of heights.entries()) {
    if (moves[index] === 0) continue;
    const best = heights[peak] ?? -1;
    if (height > best || (height === best && rank(index) > rank(peak))) peak = index;
  }
  const chosen: number[] = [];
  for (const [index, move] of moves.entries()) {
    const drawn = index > 0 && random.integer(OTHERS_IN[growth] as number) === 0;
    const away = moveBetween(slots[index - 1], chosen[index - 1] ?? 0, slots[index] ?? [], move);
    const wished = index === peak || (drawn && Math.abs(away) <= WIDEST_MOVE);
    chosen.push(wished && phrases.length > 1 ? move : 0);
  }
  return chosen;
}

/**
 * A chorus that changes octave at least once: where the phrases that were to lie apart found no line, the one nearest to two thirds
 * through that fits moves as a whole. One phrase alone, and phrases that fit nowhere else, stay.
 */
export function withAnOctave(plan: Plan, notes: readonly ChorusNote[]): ChorusNote[] {
  const phrases = phrasesOf(notes);
  if (phrases.length < 2 || new Set(notes.map(({ octaves }) => octaves)).size > 1) return [...notes];
  const target = Math.floor((phrases.length * 2) / 3);
  const nearest = phrases.toSorted(
    (a, b) => Math.abs(phrases.indexOf(a) - target) - Math.abs(phrases.indexOf(b) - target),
  );
  for (const phrase of nearest) {
    const slots = phrase.map(({ slotIndex }) => plan.slots[slotIndex] as PlannedSlot);
    const move = [1, -1].find((each) => fits(slots, (phrase[0] as ChorusNote).octaves + each));
    if (move === undefined) continue;
    return notes.map((note) => {
      if (!phrase.includes(note)) return note;
      const pitch = { ...note.pitch, octave: note.pitch.octave + move };
      return { ...note, pitch, octaves: note.octaves + move };
    });
  }
  return [...notes];
}
