import type { Plan, PlannedSlot } from '../../plan/index.ts';
import {
  midi,
  pitchClass,
  pitchClassOf,
  readChordSymbol,
  respelledChord,
  spellingsOf,
  type ChordSymbol,
  type Midi,
  type NoteName,
} from '../../theory/index.ts';
import type { Reason } from '../../analysis/index.ts';
import type { Issue } from '../../issue/index.ts';
import { standingOf } from '../chorus/key-place.ts';
import { mayAnticipate } from '../chorus/candidate.ts';
import { LINE_RULES, type LineId, type NotePin } from './note-pin.ts';
import { nameOfOwn } from './own-name.ts';
import { isRubbing, reasonOfOwn, type PlacedNote } from './own-reason.ts';

/** The lowest and highest key of a piano. */
const LOWEST_KEY = 21;
const HIGHEST_KEY = 108;

/** A teacher's note in the form. Ticks count from the first full bar. */
export interface OwnNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly key: Midi;
}

/** What a teacher wrote over one played slot. */
export interface OwnStretch {
  readonly slotIndex: number;
  readonly startTicks: number;
  readonly endTicks: number;
  readonly notes: readonly OwnNote[];
}

/** A teacher's note with what it does. */
export interface NamedOwnNote extends OwnNote {
  readonly name: NoteName;
  /** The slot it belongs to: an anticipation's is the coming one. */
  readonly slotIndex: number;
  readonly why: Reason;
}

/** A text's chord; undefined where it is none. */
export function symbolOf(text: string): ChordSymbol | undefined {
  const read = readChordSymbol(text);
  return read.ok ? read.value : undefined;
}

/**
 * A chord symbol some half steps up or down, by the plain name of its root; a text that is none stays as it is.
 * @example movedSymbol('Dm7', 3) // → 'Fm7'
 */
export function movedSymbol(text: string, semitones: number): string {
  const chord = symbolOf(text);
  if (chord?.kind !== 'chord') return text;
  const moved = (name: NoteName): NoteName =>
    spellingsOf(pitchClass((pitchClassOf(name) + semitones + 24) % 12), 1)[0] as NoteName;
  return respelledChord(chord, moved(chord.root), chord.bass === null ? null : moved(chord.bass)).symbol;
}

/** Whether a text names a chord, whatever its letters. */
export function isSameChord(text: string, chord: ChordSymbol): boolean {
  const other = symbolOf(text);
  if (other?.kind !== 'chord' || chord.kind !== 'chord') return other?.kind === chord.kind;
  const bassOf = ({ bass, root }: typeof other): number => pitchClassOf(bass ?? root);
  return (
    other.suffix === chord.suffix &&
    pitchClassOf(other.root) === pitchClassOf(chord.root) &&
    bassOf(other) === bassOf(chord)
  );
}

/** Whether a note belongs to the coming chord: on the last off-beat, sounding on into a chord that has it. */
function isEarly(plan: Plan, slotIndex: number, { startTicks, durationTicks, key }: OwnNote): boolean {
  const next = plan.slots[slotIndex + 1];
  const { chord = null } = next?.analysed ?? {};
  if (next === undefined || chord === null || next.chordScale === null) return false;
  if (startTicks + durationTicks <= next.analysed.played.startTicks || !mayAnticipate(plan, slotIndex, startTicks)) {
    return false;
  }
  return ['guide tone', 'chord tone'].includes(standingOf(pitchClass(key % 12), chord, next.chordScale));
}

/**
 * The notes of a stretch, named, with what each does over its chord.
 * @param after the note that follows the last one at once, in whatever chord; undefined where silence does
 */
export function namedNotes(
  plan: Plan,
  part: LineId,
  { slotIndex, notes }: OwnStretch,
  after: PlacedNote | undefined,
): NamedOwnNote[] {
  const { inPosition } = LINE_RULES[part];
  const named: NamedOwnNote[] = [];
  let next = after;
  let nextStart = Number.NaN;
  for (const note of notes.toReversed()) {
    const early = inPosition && isEarly(plan, slotIndex, note);
    const index = early ? slotIndex + 1 : slotIndex;
    const slot = plan.slots[index] as PlannedSlot;
    const follows = Number.isNaN(nextStart) || note.startTicks + note.durationTicks === nextStart ? next : undefined;
    const name = nameOfOwn(slot, note.key, follows, inPosition);
    const placed = { key: note.key, name, slot };
    named.unshift({
      ...note,
      name,
      slotIndex: index,
      why: reasonOfOwn(placed, follows, { inPosition, isEarly: early }),
    });
    next = placed;
    nextStart = note.startTicks;
  }
  return named;
}

/** A pin as it stands in the form, or why it is passed over. */
export type ReadPin =
  | { readonly kind: 'fits'; readonly stretch: OwnStretch }
  // and what to do about it
  | { readonly kind: 'passed over'; readonly issue: Issue };

/**
 * Finds a pin's place in a plan. It is passed over, and says so, where its chord is gone, where there is no room for its notes any
 * more, where they leave the keyboard or no hand has a place, and where the chord has become another that they rub over.
 */
export function readPin(plan: Plan, pin: NotePin): ReadPin {
  const slotIndex = plan.slots.findIndex(
    ({ analysed: { played } }) => played.slot.id === pin.slot && played.playedBar.pass === pin.pass,
  );
  const slot = plan.slots[slotIndex];
  if (slot === undefined) {
    const args = { slot: pin.slot, pass: pin.pass };
    return { kind: 'passed over', issue: { code: 'plan.pin-lost', args, place: {} } };
  }
  const { played } = slot.analysed;
  const chord = played.slot.chord;
  const passedOver = (code: Issue['code'], more: Issue['args'] = {}): ReadPin => ({
    kind: 'passed over',
    issue: {
      code,
      args: { part: pin.part, chord: chord.symbol, pass: pin.pass, ...more },
      place: { bar: played.playedBar.bar.number },
    },
  });
  const lengthTicks = played.endTicks - played.startTicks;
  const formEnd = plan.slots.at(-1)?.analysed.played.endTicks ?? 0;
  const isInOrder = pin.notes.every(
    ({ onsetTicks, durationTicks }, index) =>
      onsetTicks + durationTicks <= (pin.notes[index + 1]?.onsetTicks ?? Number.POSITIVE_INFINITY),
  );
  const hasRoom = pin.notes.every(
    ({ onsetTicks, durationTicks }) =>
      onsetTicks < lengthTicks && played.startTicks + onsetTicks + durationTicks <= formEnd,
  );
  if (!isInOrder || !hasRoom) return passedOver('parts.notes-room');
  if (pin.notes.some(({ key }) => key < LOWEST_KEY || key > HIGHEST_KEY)) return passedOver('parts.notes-keyboard');
  if (LINE_RULES[pin.part].inPosition && plan.slots.every(({ position }) => position === null)) {
    return passedOver('parts.notes-hand');
  }
  const stretch: OwnStretch = {
    slotIndex,
    startTicks: played.startTicks,
    endTicks: played.endTicks,
    notes: pin.notes.map(({ onsetTicks, durationTicks, key }) => ({
      startTicks: played.startTicks + onsetTicks,
      durationTicks,
      key: midi(key),
    })),
  };
  if (!isSameChord(pin.over, chord)) {
    const rubbing = namedNotes(plan, pin.part, stretch, undefined).find(({ why }) => isRubbing(why));
    if (rubbing !== undefined) {
      return passedOver('parts.notes-chord', { over: pin.over, note: rubbing.why.args['note'] ?? '' });
    }
  }
  return { kind: 'fits', stretch };
}

/** What a teacher wrote in a line, where it fits, in time order: of two pins of one chord the later one. */
export function ownStretches(plan: Plan, part: LineId, pins: readonly NotePin[]): OwnStretch[] {
  const bySlot = new Map<number, OwnStretch>();
  for (const pin of pins) {
    const read = pin.part === part ? readPin(plan, pin) : undefined;
    if (read?.kind === 'fits') bySlot.set(read.stretch.slotIndex, read.stretch);
  }
  return [...bySlot.values()].sort((a, b) => a.startTicks - b.startTicks);
}

/** Pins of notes that are passed over, as warnings. */
export function notePinIssues(plan: Plan, pins: readonly NotePin[]): Issue[] {
  return pins.flatMap((pin) => {
    const read = readPin(plan, pin);
    return read.kind === 'fits' ? [] : [read.issue];
  });
}
