import type { Cue, Said } from '../../film/index.ts';
import type { Position } from '../../hand/index.ts';
import type { ChordScale } from '../../analysis/index.ts';
import { formatNoteName, type Chord, type ChordSymbol } from '../../theory/index.ts';

/** A chord as it sounds, with the hand over it. */
export interface SpokenSlot {
  readonly symbol: ChordSymbol;
  readonly chord: Chord | null;
  readonly chordScale: ChordScale | null;
  readonly position: Position | null;
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

function thumbsOf(slots: readonly SpokenSlot[]) {
  const thumbs = slots.flatMap(({ position }) => (position === null ? [] : [position.thumb]));
  return thumbs.filter((thumb, at) => at === 0 || formatNoteName(thumb) !== formatNoteName(thumbs[at - 1] ?? thumb));
}

const isSpoken = ({ chord, position }: SpokenSlot): boolean => chord !== null && position !== null;

/** Whether there is time to say what a group does. */
function isSayable(slots: readonly SpokenSlot[]): boolean {
  return lengthOf(slots) >= slots.length * CHORD_SECONDS + thumbsOf(slots).length * THUMB_SECONDS - 1e-6;
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

function saidOf({ slots }: Group): Said {
  const [first] = slots as [SpokenSlot];
  const { symbol, chord, chordScale, position } = first;
  if (chord === null || position === null) return { code: 'play.chord', chord: symbol };
  if (slots.length === 1 && lengthOf(slots) >= SENTENCE_SECONDS)
    return { code: 'play.thumb', chord, chordScale, position };
  const chords = slots.flatMap((each) => (each.chord === null ? [] : [each.chord]));
  const names = chords.filter((each, at) => at === 0 || each.symbol !== chords[at - 1]?.symbol);
  return { code: 'play.thumbs', chords: names, thumbs: thumbsOf(slots) };
}

/** What is said while chords sound: a sentence for each where there is time for it, else several chords in one, with their thumbs. */
export function playCues(slots: readonly SpokenSlot[]): Cue[] {
  return grouped(slots).map((group) => ({
    startSeconds: group.slots[0]?.startSeconds ?? 0,
    endSeconds: group.slots.at(-1)?.endSeconds ?? 0,
    said: saidOf(group),
  }));
}
