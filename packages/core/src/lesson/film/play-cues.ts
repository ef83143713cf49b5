import type { Cue, HandPlace, Said } from '../../film/index.ts';
import type { ChordScale } from '../../analysis/index.ts';
import type { Chord, ChordSymbol } from '../../theory/index.ts';

/** A chord as it sounds, with the hand over it. */
export interface SpokenSlot {
  readonly symbol: ChordSymbol;
  readonly chord: Chord | null;
  readonly chordScale: ChordScale | null;
  readonly hand: HandPlace | null;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

/**
 * How long words take that are spoken calmly, about 150 a minute: a whole sentence with its degrees, a chord's name, `thumb on F`.
 * Common practice of speech; what is read goes faster.
 */
const SENTENCE_SECONDS = 4;
const CHORD_SECONDS = 0.9;
const THUMB_SECONDS = 1.2;
/** Beyond this nobody remembers which chord was which. */
const MOST_CHORDS = 4;

interface Group {
  readonly slots: readonly SpokenSlot[];
}

const lengthOf = (slots: readonly SpokenSlot[]): number =>
  (slots.at(-1)?.endSeconds ?? 0) - (slots[0]?.startSeconds ?? 0);

/** Whether two hands are one to look at: the same shape on the same key. */
export const sameHand = (a: HandPlace | null, b: HandPlace | null): boolean =>
  a?.thumbMidi === b?.thumbMidi && a?.position.shape.id === b?.position.shape.id;

function handsOf(slots: readonly SpokenSlot[]): HandPlace[] {
  const hands = slots.flatMap(({ hand }) => (hand === null ? [] : [hand]));
  return hands.filter((hand, at) => at === 0 || !sameHand(hand, hands[at - 1] ?? null));
}

const isSpoken = ({ chord, hand }: SpokenSlot): boolean => chord !== null && hand !== null;

/** Whether there is time to say what a group does. */
function isSayable(slots: readonly SpokenSlot[]): boolean {
  return lengthOf(slots) >= slots.length * CHORD_SECONDS + handsOf(slots).length * THUMB_SECONDS - 1e-6;
}

/** Chords as they are spoken of together: as few as the tempo lets one say. */
function grouped(slots: readonly SpokenSlot[]): Group[] {
  const groups: SpokenSlot[][] = [];
  for (const slot of slots) {
    const last = groups.at(-1);
    const goesOn =
      last !== undefined &&
      last.length < MOST_CHORDS &&
      last.every(isSpoken) &&
      isSpoken(slot) &&
      Math.abs((last.at(-1)?.endSeconds ?? 0) - slot.startSeconds) < 1e-6 &&
      !isSayable(last);
    if (goesOn) last.push(slot);
    else groups.push([slot]);
  }
  return groups.map((each) => ({ slots: each }));
}

function saidOf({ slots }: Group, lesson: number): Said {
  const [first] = slots as [SpokenSlot];
  const { symbol, chord, chordScale, hand } = first;
  if (chord === null || hand === null) return { code: 'play.chord', chord: symbol };
  if (slots.length === 1 && lengthOf(slots) >= SENTENCE_SECONDS)
    return { code: 'play.thumb', chord, chordScale, lesson, hand };
  const chords = slots.flatMap((each) => (each.chord === null ? [] : [each.chord]));
  const names = chords.filter((each, at) => at === 0 || each.symbol !== chords[at - 1]?.symbol);
  return { code: 'play.thumbs', chords: names, lesson, hands: handsOf(slots) };
}

/**
 * What is said while chords sound: a sentence for each where there is time for it, else several chords in one, with their thumbs.
 * @param lesson which of the film's lessons names the hands
 */
export function playCues(slots: readonly SpokenSlot[], lesson: number): Cue[] {
  return grouped(slots).map((group) => ({
    startSeconds: group.slots[0]?.startSeconds ?? 0,
    endSeconds: group.slots.at(-1)?.endSeconds ?? 0,
    said: saidOf(group, lesson),
  }));
}
