import { beatTicksOf, isCompound, TICKS_PER_QUARTER, type PlayedSlot } from '../../chart/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { chordToneDegrees } from '../../analysis/index.ts';
import {
  accidentalsOf,
  guideTonesOf,
  midiOf,
  noteAbove,
  ownNames,
  pitchClassOf,
  semitonesOf,
  type Pitch,
} from '../../theory/index.ts';
import type { ChorusNote } from './chorus.ts';

/** A rule of the chorus that a note breaks; its words are in wordsOfChorusFault. */
export type ChorusFaultCode =
  | 'no-slot'
  | 'outside-form'
  | 'no-length'
  | 'overlaps'
  | 'outside-slot'
  | 'hand-rests'
  | 'other-position'
  | 'other-finger'
  | 'misspelled'
  | 'neighbour-astray'
  | 'neighbour-on-beat'
  | 'sounds-too-long'
  | 'silence-after-no-chord-tone'
  | 'avoid-hangs'
  | 'three-times';

export interface ChorusFault {
  readonly code: ChorusFaultCode;
  /** Index of the note in the chorus. */
  readonly note: number;
}

const WORDS: Readonly<Record<ChorusFaultCode, string>> = {
  'no-slot': 'belongs to no slot',
  'outside-form': 'lies outside the form',
  'no-length': 'has no length',
  overlaps: 'overlaps the next',
  'outside-slot': 'begins outside its slot and is no anticipation of it',
  'hand-rests': 'is played where the hand has no position',
  'other-position': 'is not in the position of the route',
  'other-finger': 'is not under its finger',
  misspelled: 'is not spelled as its position spells it',
  'neighbour-astray': 'is a neighbour and does not lie between two fingers, a half step from the next note',
  'neighbour-on-beat': 'is a neighbour on the beat',
  'sounds-too-long': 'sounds on into a chord that does not take it in',
  'silence-after-no-chord-tone': 'is followed by silence and is no chord tone',
  'avoid-hangs': 'is an avoid note and goes nowhere',
  'three-times': 'is the same key a third time',
};

/** A fault in English, for a test's message. */
export function wordsOfChorusFault({ code, note }: ChorusFault): string {
  return `note ${note + 1} ${WORDS[code]}`;
}

/** By the chord alone, so that this does not lean on what the generator reads. */
function isChordTone({ analysed }: PlannedSlot, { name }: Pitch): boolean {
  const { chord } = analysed;
  return (
    chord !== null &&
    chordToneDegrees(chord).some((each) => pitchClassOf(noteAbove(chord.root, each)) === pitchClassOf(name))
  );
}

function isAvoid({ chordScale }: PlannedSlot, { name }: Pitch): boolean {
  return chordScale?.avoid.some((each) => pitchClassOf(each.note) === pitchClassOf(name)) ?? false;
}

/** A half step above the root or the fifth, where the chord has one: such an avoid note falls. */
function leansOn({ analysed: { chord } }: PlannedSlot, { name }: Pitch): boolean {
  if (chord === null) return false;
  const above = (pitchClassOf(name) - pitchClassOf(chord.root) + 12) % 12;
  return above === 1 || (above === 8 && !chordToneDegrees(chord).some((each) => semitonesOf(each) === 8));
}

/** From an outside chord-scale into a guide tone of the chord after it. */
function comesHome(from: PlannedSlot, to: PlannedSlot, pitch: Pitch | undefined): boolean {
  const { chord } = to.analysed;
  if (from.chordScale?.inside !== false || from === to || chord === null || pitch === undefined) return false;
  return guideTonesOf(chord).some((each) => pitchClassOf(noteAbove(chord.root, each)) === pitchClassOf(pitch.name));
}

/** The length of the last off-beat before a slot: an eighth, a third of a dotted beat; nothing where beats are so short. */
function offBeatTicksOf({ playedBar: { bar } }: PlayedSlot): number {
  const beat = beatTicksOf(bar.meter);
  if (isCompound(bar.meter)) return beat / 3;
  return beat > TICKS_PER_QUARTER / 2 ? TICKS_PER_QUARTER / 2 : 0;
}

function begins(plan: Plan, note: ChorusNote): boolean {
  const own = (plan.slots[note.slotIndex] as PlannedSlot).analysed.played;
  if (own.startTicks <= note.startTicks && note.startTicks < own.endTicks) return true;
  const before = plan.slots[note.slotIndex - 1]?.analysed.played;
  if (before === undefined) return false;
  const { playedBar } = before;
  const offBeat = (note.startTicks - playedBar.startTicks) % beatTicksOf(playedBar.bar.meter) !== 0;
  return offBeat && own.startTicks - note.startTicks === offBeatTicksOf(before);
}

/** A neighbour is off the beat between the keys of two fingers next to each other, and goes at once by half step. */
function neighbourFaults(
  plan: Plan,
  note: ChorusNote,
  next: ChorusNote | undefined,
  thumbKey: number,
): ChorusFaultCode[] {
  const codes: ChorusFaultCode[] = [];
  const key = midiOf(note.pitch);
  const { steps } = note.position.shape;
  const keys = steps.map((step) => thumbKey + step);
  const lower = keys.findLastIndex((each) => each < key);
  const isBetween = lower >= 0 && lower < 4 && !keys.includes(key);
  const isBeside = note.finger === lower + 1 || note.finger === lower + 2;
  const leads =
    next !== undefined &&
    next.neighbour === null &&
    next.startTicks === note.startTicks + note.durationTicks &&
    Math.abs(midiOf(next.pitch) - key) === 1;
  if (!isBetween || !isBeside || !leads) codes.push('neighbour-astray');
  const { chord, reading } = (plan.slots[note.slotIndex] as PlannedSlot).analysed;
  // the chord's own names stand, with two flats too: E𝄫 over A♭m7♭5
  const isOwn = chord !== null && ownNames(chord, reading.key).includes(note.pitch.name);
  if (Math.abs(accidentalsOf(note.pitch.name)) > 1 && !isOwn) codes.push('misspelled');
  const { playedBar } = (plan.slots[note.slotIndex] as PlannedSlot).analysed.played;
  if ((note.startTicks - playedBar.startTicks) % beatTicksOf(playedBar.bar.meter) === 0)
    codes.push('neighbour-on-beat');
  return codes;
}

/**
 * Every rule of the chorus that a line breaks; empty where it keeps them. Written from the rules, not from the search, so
 * that one proves the other: only the route's positions, an anticipation on the last off-beat alone, silence after chord
 * tones only (so phrases end on them), avoid notes by step to a chord tone of their chord at once (♭9 and ♭13 by half step down), from outside by step into a guide tone of the coming chord, or held into a chord that has them, no key three times running within a phrase.
 * @param chorus in time order
 * @example chorusFaults(plan, improviseChorus(plan, { level: 1, random: randomSource(1, 'chorus') })) // → []
 */
export function chorusFaults(plan: Plan, chorus: readonly ChorusNote[]): ChorusFault[] {
  const formStart = plan.slots[0]?.analysed.played.startTicks ?? 0;
  const formEnd = plan.slots.at(-1)?.analysed.played.endTicks ?? 0;
  return chorus.flatMap((note, index): ChorusFault[] => {
    // a teacher keeps their own rules
    if (note.own === true) return [];
    const codes: ChorusFaultCode[] = [];
    const slot = plan.slots[note.slotIndex];
    if (slot === undefined) return [{ code: 'no-slot', note: index }];
    const next = chorus[index + 1];
    const endTicks = note.startTicks + note.durationTicks;
    if (note.startTicks < formStart || endTicks > formEnd) codes.push('outside-form');
    if (note.durationTicks <= 0) codes.push('no-length');
    if (next !== undefined && next.startTicks < endTicks) codes.push('overlaps');
    if (!begins(plan, note)) codes.push('outside-slot');

    const { position, thumbMidi } = slot;
    if (position === null || thumbMidi === null)
      return [...codes, 'hand-rests' as const].map((code) => ({ code, note: index }));
    if (note.position.thumb !== position.thumb || note.position.shape.id !== position.shape.id)
      codes.push('other-position');
    const key = midiOf(note.pitch);
    const thumbKey = thumbMidi + 12 * note.octaves;
    if (note.neighbour !== null) codes.push(...neighbourFaults(plan, note, next, thumbKey));
    else {
      if (key !== thumbKey + (position.shape.steps[note.finger - 1] as number)) codes.push('other-finger');
      if (note.pitch.name !== position.notes[note.finger - 1]) codes.push('misspelled');
    }

    const slotEnd = slot.analysed.played.endTicks;
    const following = plan.slots[note.slotIndex + 1];
    const takenIn = following !== undefined && endTicks > slotEnd && isChordTone(following, note.pitch);
    if (endTicks > slotEnd && !(takenIn && endTicks <= following.analysed.played.endTicks))
      codes.push('sounds-too-long');

    const isSilent = next === undefined || next.startTicks > endTicks;
    const avoid = note.neighbour === null && isAvoid(slot, note.pitch);
    if (isSilent && !isChordTone(slot, note.pitch) && !(avoid && takenIn)) codes.push('silence-after-no-chord-tone');
    if (avoid && !takenIn) {
      const step = next === undefined ? 0 : Math.abs(midiOf(next.pitch) - midiOf(note.pitch));
      const falls = next !== undefined && midiOf(next.pitch) - midiOf(note.pitch) === -1;
      const isStep = leansOn(slot, note.pitch) ? falls : step === 1 || step === 2;
      const resolves = !isSilent && isStep && isChordTone(slot, next.pitch);
      const goal = next === undefined ? undefined : plan.slots[next.slotIndex];
      const sameChord = goal?.analysed.played.slot.chord.symbol === slot.analysed.played.slot.chord.symbol;
      const homeward = goal !== undefined && comesHome(slot, goal, next?.pitch) && !isSilent && isStep;
      if (!(resolves && sameChord) && !homeward) codes.push('avoid-hangs');
    }
    const run = chorus.slice(Math.max(0, index - 2), index + 1);
    const isRun = run.length === 3 && new Set(run.map((each) => midiOf(each.pitch))).size === 1;
    const parts = run.some(
      (each, at) =>
        at > 0 &&
        each.startTicks - ((run[at - 1] as ChorusNote).startTicks + (run[at - 1] as ChorusNote).durationTicks) >=
          TICKS_PER_QUARTER,
    );
    if (isRun && !parts) codes.push('three-times');
    return codes.map((code) => ({ code, note: index }));
  });
}
