import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { pitchClassOf, modulo, type ChordSymbol } from '../../theory/index.ts';
import { BASS_KEYS } from '../bass-line.ts';
import { HIGHEST_CHORUS_KEY, LOWEST_CHORUS_KEY } from '../chorus/octave.ts';
import type { BassRange, PartNote } from '../note.ts';
import { pinOfStretch } from './edit-notes.ts';
import { joinLine } from './join-line.ts';
import { LINE_RULES, SHORTEST_PINNED_TICKS, type LineId, type NotePin, type PinnedNote } from './note-pin.ts';
import { isRubbing } from './own-reason.ts';
import { isSameChord, movedSymbol, ownStretches, symbolOf } from './own-stretch.ts';

/** A chord that a phrase was over, from the phrase's start. */
export interface PhraseChord {
  readonly onsetTicks: number;
  readonly symbol: string;
}

/** A run of notes that a teacher keeps by name, with the chords it was over, in the chart's own key. */
export interface Phrase {
  readonly name: string;
  readonly part: LineId;
  readonly lengthTicks: number;
  /** At least one, in time order, the first from the start. */
  readonly chords: readonly PhraseChord[];
  /** In time order, one at a time. */
  readonly notes: readonly PinnedNote[];
}

/** More phrases than a lesson is about. */
export const MOST_PHRASES = 100;
export const LONGEST_PHRASE_NAME = 60;
export const MOST_CHORDS_OF_PHRASE = 64;
export const MOST_NOTES_OF_PHRASE = 512;

/**
 * What a line plays over some chords, as a phrase to be kept.
 * @param from index of its first slot
 * @param count how many slots it is over; fewer where the form ends
 * @returns undefined where the line is silent there, or the phrase is longer than one can be
 */
export function phraseOf(
  plan: Plan,
  { part, name }: Pick<Phrase, 'part' | 'name'>,
  line: readonly PartNote[],
  from: number,
  count: number,
): Phrase | undefined {
  const slots = plan.slots.slice(from, from + count);
  const start = slots[0]?.analysed.played.startTicks ?? 0;
  const end = slots.at(-1)?.analysed.played.endTicks ?? 0;
  const notes = slots.flatMap(({ analysed: { played } }, index) =>
    pinOfStretch(plan, part, line, from + index).notes.flatMap((note): PinnedNote[] => {
      const onsetTicks = played.startTicks + note.onsetTicks - start;
      const durationTicks = Math.min(note.durationTicks, end - start - onsetTicks);
      return durationTicks < SHORTEST_PINNED_TICKS ? [] : [{ ...note, onsetTicks, durationTicks }];
    }),
  );
  if (notes.length === 0 || notes.length > MOST_NOTES_OF_PHRASE || slots.length > MOST_CHORDS_OF_PHRASE)
    return undefined;
  const chords = slots.map(({ analysed: { played } }) => ({
    onsetTicks: played.startTicks - start,
    symbol: played.slot.chord.symbol,
  }));
  return { name, part, lengthTicks: end - start, chords, notes };
}

/** A phrase some half steps up or down, with its chords. */
export function movedPhrase(phrase: Phrase, semitones: number): Phrase {
  return {
    ...phrase,
    chords: phrase.chords.map((chord) => ({ ...chord, symbol: movedSymbol(chord.symbol, semitones) })),
    notes: phrase.notes.map((note) => ({ ...note, key: note.key + semitones })),
  };
}

/** A note of a phrase that rubs where it is put. */
export interface PhraseRub {
  readonly note: string;
  readonly chord: string;
}

/** A phrase put over another chord. */
export interface PlacedPhrase {
  readonly startTicks: number;
  readonly endTicks: number;
  /** What it makes of the notes over each chord it is over: after it the line goes on as it was. */
  readonly pins: readonly NotePin[];
  /** How far it was moved. */
  readonly semitones: number;
  /** Notes that are left rubbing over the chords there. */
  readonly rubs: readonly PhraseRub[];
}

const rootOf = (chord: ChordSymbol | undefined): number | undefined =>
  chord?.kind === 'chord' ? pitchClassOf(chord.root) : undefined;

/** From the chord a phrase began over to another, the nearer way; by octaves so that most of it is in its part's range. */
function semitonesTo(phrase: Phrase, to: ChordSymbol, range: BassRange): number {
  const [from, root] = [rootOf(symbolOf(phrase.chords[0]?.symbol ?? '')), rootOf(to)];
  const near = from === undefined || root === undefined ? 0 : modulo(root - from + 5, 12) - 5;
  const { lowest, highest } = LINE_RULES[phrase.part].inBassRange
    ? BASS_KEYS[range]
    : { lowest: LOWEST_CHORUS_KEY, highest: HIGHEST_CHORUS_KEY };
  const outside = (by: number): number =>
    phrase.notes.filter(({ key }) => key + by < lowest || key + by > highest).length;
  return [near, near + 12, near - 12].toSorted((a, b) => outside(a) - outside(b))[0] as number;
}

/**
 * Puts a phrase over a chord and those after it: moved by the chord's root, note for note. Whether it fits is told: which of its notes
 * are left rubbing there.
 * @param line what the part plays now, which goes on after the phrase
 * @param slotIndex the chord it begins over
 * @returns undefined where the form ends before the phrase does
 */
export function placedPhrase(
  plan: Plan,
  phrase: Phrase,
  line: readonly PartNote[],
  slotIndex: number,
  range: BassRange,
): PlacedPhrase | undefined {
  const first = plan.slots[slotIndex];
  if (first === undefined) throw new RangeError(`slotIndex must be a slot of the plan, not ${slotIndex}`);
  const { startTicks } = first.analysed.played;
  const endTicks = startTicks + phrase.lengthTicks;
  const formEnd = plan.slots.at(-1)?.analysed.played.endTicks ?? 0;
  const sounded = Math.max(...phrase.notes.map((note) => note.onsetTicks + note.durationTicks));
  if (startTicks + sounded > formEnd) return undefined;
  const semitones = semitonesTo(phrase, first.analysed.played.slot.chord, range);
  const pins = plan.slots.flatMap(({ analysed: { played } }, index): NotePin[] => {
    if (played.endTicks <= startTicks || played.startTicks >= endTicks) return [];
    const now = pinOfStretch(plan, phrase.part, line, index);
    const from = played.startTicks - startTicks;
    const put = phrase.notes
      .filter(({ onsetTicks }) => onsetTicks >= from && onsetTicks < from + played.endTicks - played.startTicks)
      .map((note): PinnedNote => ({ ...note, onsetTicks: note.onsetTicks - from, key: note.key + semitones }));
    const after = now.notes.filter(({ onsetTicks }) => onsetTicks >= endTicks - played.startTicks);
    return [{ ...now, notes: [...put, ...after] }];
  });
  return { startTicks, endTicks, pins, semitones, rubs: rubsOf(plan, phrase.part, pins, line, endTicks) };
}

/** The notes of pins that are left rubbing, up to a tick. */
function rubsOf(
  plan: Plan,
  part: LineId,
  pins: readonly NotePin[],
  line: readonly PartNote[],
  endTicks: number,
): PhraseRub[] {
  const { own } = joinLine(plan, part, line, ownStretches(plan, part, pins));
  return own
    .flat()
    .filter(({ startTicks, why }) => startTicks < endTicks && isRubbing(why))
    .map(({ why, slotIndex }) => ({
      note: why.args['note'] ?? '',
      chord: (plan.slots[slotIndex] as PlannedSlot).analysed.played.slot.chord.symbol,
    }));
}

/** Whether the chords from a slot on are a phrase's own, all as far up or down. */
export function liesOverItsChords(plan: Plan, phrase: Phrase, slotIndex: number): boolean {
  const first = plan.slots[slotIndex]?.analysed.played;
  const [from, root] = [rootOf(symbolOf(phrase.chords[0]?.symbol ?? '')), rootOf(first?.slot.chord)];
  if (first === undefined || from === undefined || root === undefined) return false;
  const semitones = modulo(root - from, 12);
  return phrase.chords.every(({ onsetTicks, symbol }, index) => {
    const there = plan.slots[slotIndex + index]?.analysed.played;
    return (
      there?.startTicks === first.startTicks + onsetTicks &&
      isSameChord(movedSymbol(symbol, semitones), there.slot.chord)
    );
  });
}

/** A phrase's name as it is kept: without blanks round it, not too long. */
export function phraseName(text: string): string {
  return [...text.trim().replaceAll(/\s+/gu, ' ')].slice(0, LONGEST_PHRASE_NAME).join('');
}

/**
 * The phrase of a name; capitals do not matter where no other has it.
 * @example findPhrase([], 'opening') // → undefined
 */
export function findPhrase(phrases: readonly Phrase[], name: string): Phrase | undefined {
  const asked = phraseName(name);
  return (
    phrases.find((each) => each.name === asked) ??
    phrases.find((each) => each.name.toLowerCase() === asked.toLowerCase())
  );
}
