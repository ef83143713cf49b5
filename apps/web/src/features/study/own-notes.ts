import {
  editNotes,
  keyByStep,
  LINES,
  ownNotesTold,
  PARTS,
  pinOfStretch,
  pitchAt,
  type LineId,
  type NoteEdit,
  type NotePin,
  type PartNote,
  type Pitch,
  type PlannedSlot,
  type Reason,
} from '@fivespan/core';
import { atom } from 'nanostores';
import type { TracedNote } from '../engraving/index.ts';
import { noteHeard } from './hearing.ts';
import { changePins } from './pins.ts';
import { sound } from './sounding.ts';
import { $study, isSameSlot, nameOf, type SlotName, type Study } from './study.ts';

/** Whether notes are being changed, or only looked at. */
export const $isWriting = atom(false);

/** Where in a line one writes: the note that begins there, if any does. */
export interface Spot {
  readonly part: LineId;
  readonly startTicks: number;
}

export const $spot = atom<Spot | null>(null);

/** What was just written, told before it is engraved. */
export interface Written {
  readonly pitch: Pitch;
  readonly startTicks: number;
  readonly part: LineId;
  readonly why: Reason;
}

export const $written = atom<Written | null>(null);

/** What is done to the note one stands on. */
export type WritingOrder =
  | { readonly kind: 'step'; readonly steps: number }
  | { readonly kind: 'half steps'; readonly semitones: number }
  // played on a keyboard: the next note is the next to be changed
  | { readonly kind: 'played'; readonly key: number }
  | { readonly kind: 'last'; readonly durationTicks: number }
  | { readonly kind: 'dotted' }
  | { readonly kind: 'take out' }
  | { readonly kind: 'add' };

/** The line a written part is, where its notes can be changed. */
export function lineOf(role: TracedNote['role']): LineId | undefined {
  const part = PARTS.find(({ staff }) => staff === role);
  return LINES.find((each) => each === part?.id);
}

/** The written note at a spot. */
export function noteAtSpot({ lesson }: Study, { part, startTicks }: Spot): TracedNote | undefined {
  const index = lesson[part].findIndex((each) => each.startTicks === startTicks);
  const staff = lesson.score.staves.find(({ role }) => lineOf(role) === part);
  const [source, written] = [lesson[part][index], staff?.notes[index]];
  if (staff === undefined || source === undefined || written === undefined) return undefined;
  return { role: staff.role, written, slotIndex: source.slotIndex, why: source.why };
}

/** Index of the slot that sounds at a tick. */
function slotIndexAt({ lesson }: Study, ticks: number): number {
  return Math.max(
    0,
    lesson.plan.slots.findLastIndex(({ analysed }) => analysed.played.startTicks <= ticks),
  );
}

/** The part of the choices that says what is written over a chord now, whether or not the lesson is made of it yet. */
function pinNow({ lesson, choices }: Study, part: LineId, slotIndex: number): NotePin {
  const composed = pinOfStretch(lesson.plan, part, lesson[part], slotIndex);
  const own = choices.pins.parts.notes.findLast((each) => each.part === part && isSameSlot(each, composed));
  // what is written anew is written over the chord as it is
  return own === undefined ? composed : { ...own, over: composed.over };
}

/** The first note that begins in a line after a tick, as it is now; undefined where none does. */
function spotAfter(study: Study, { part, startTicks }: Spot): Spot | undefined {
  const { slots } = study.lesson.plan;
  for (let index = slotIndexAt(study, startTicks); index < slots.length; index++) {
    const from = (slots[index] as PlannedSlot).analysed.played.startTicks;
    const note = pinNow(study, part, index).notes.find(({ onsetTicks }) => from + onsetTicks > startTicks);
    if (note !== undefined) return { part, startTicks: from + note.onsetTicks };
  }
  return undefined;
}

/**
 * The note of a chord that an order is for: the one that begins at the spot; where it is gone, undone perhaps, the one before it, or the
 * first. A note that is put in comes after one that begins there, or at the chord's start.
 */
function indexAt({ notes }: NotePin, onsetTicks: number, { kind }: WritingOrder): number {
  const index = notes.findIndex((each) => each.onsetTicks === onsetTicks);
  if (index >= 0 || kind === 'add' || notes.length === 0) return index;
  return Math.max(
    0,
    notes.findLastIndex((each) => each.onsetTicks < onsetTicks),
  );
}

/** The edit an order is, for the note at an index. */
function editOf(order: WritingOrder, slot: PlannedSlot, pin: NotePin, index: number, fallback: number): NoteEdit {
  const key = pin.notes[index]?.key ?? fallback;
  switch (order.kind) {
    case 'step':
      return { kind: 'move', key: keyByStep(slot, key, order.steps) };
    case 'half steps':
      return { kind: 'move', key: key + order.semitones };
    case 'played':
      return { kind: index < 0 ? 'add' : 'move', key: order.key };
    case 'last':
      return order;
    case 'dotted':
      return { kind: 'last', durationTicks: Math.round((pin.notes[index]?.durationTicks ?? 0) * 1.5) };
    case 'take out':
      return order;
    case 'add':
      return { kind: 'add', key: index < 0 ? key : keyByStep(slot, key, 1) };
  }
}

/** Where a line lies that has no note yet: the middle of its staff. */
const MIDDLE: Readonly<Record<LineId, number>> = { chorus: 72, bass: 43 };

/** A key near a line's middle that belongs to the chord-scale: what a note put into silence sounds. */
function firstKey(slot: PlannedSlot, part: LineId): number {
  return keyByStep(slot, MIDDLE[part] - 1, 1);
}

/** The pins with another's notes put in place of those of its chord. */
function put(pins: readonly NotePin[], pin: NotePin): NotePin[] {
  return [...pins.filter((each) => each.part !== pin.part || !isSameSlot(each, pin)), pin];
}

function tell({ lesson }: Study, pin: NotePin, slot: PlannedSlot, startTicks: number): void {
  const line: readonly PartNote[] = lesson[pin.part];
  const told = ownNotesTold(lesson.plan, pin, line).find((each) => each.startTicks === startTicks);
  if (told === undefined) return;
  const pitch = pitchAt(told.name, told.key);
  $written.set({ pitch, startTicks, part: pin.part, why: told.why });
  const staff = PARTS.find(({ id }) => id === pin.part);
  void sound(noteHeard(slot.analysed.chord, pitch, staff?.instrument === 'acoustic bass'));
}

/**
 * Does something to the note at the spot: heard and told at once, and kept as the teacher's own notes over that chord.
 * @returns whether anything could be done
 */
export function write(order: WritingOrder): boolean {
  const study = $study.get();
  const spot = $spot.get();
  if (study === null || spot === null) return false;
  const slotIndex = slotIndexAt(study, spot.startTicks);
  const slot = study.lesson.plan.slots[slotIndex];
  if (slot === undefined) return false;
  const { startTicks, endTicks } = slot.analysed.played;
  const pin = pinNow(study, spot.part, slotIndex);
  const index = indexAt(pin, spot.startTicks - startTicks, order);
  const edit = editOf(order, slot, pin, index, firstKey(slot, spot.part));
  const formEnd = study.lesson.analysis.form.endTicks;
  const room = { lengthTicks: endTicks - startTicks, mostTicks: formEnd - startTicks };
  const edited = editNotes(pin.notes, index, edit, room);
  if (edited === undefined) return false;
  const written = { ...pin, notes: edited.notes };
  changePins(({ parts, ...others }) => ({ ...others, parts: { ...parts, notes: put(parts.notes, written) } }));
  const at = edited.onsetTicks === null ? null : startTicks + edited.onsetTicks;
  if (at !== null) tell(study, written, slot, at);
  else $written.set(null);
  const now = $study.get() ?? study;
  const here: Spot = { part: spot.part, startTicks: at ?? spot.startTicks };
  $spot.set(order.kind === 'played' ? (spotAfter(now, here) ?? here) : here);
  return true;
}

/** Whether the notes over the chord at the spot are the teacher's own. */
export function isOwnAt({ lesson, choices }: Study, spot: Spot): boolean {
  const slot = lesson.plan.slots.findLast(({ analysed }) => analysed.played.startTicks <= spot.startTicks);
  const name: SlotName | null = slot === undefined ? null : nameOf(slot);
  return name !== null && choices.pins.parts.notes.some((pin) => pin.part === spot.part && isSameSlot(pin, name));
}

/** Lets the notes over the chord at the spot be composed again. */
export function composeAgain(spot: Spot): void {
  const study = $study.get();
  const slot = study?.lesson.plan.slots[study === null ? 0 : slotIndexAt(study, spot.startTicks)];
  if (slot === undefined) return;
  const name = nameOf(slot);
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: { ...parts, notes: parts.notes.filter((pin) => pin.part !== spot.part || !isSameSlot(pin, name)) },
  }));
  $written.set(null);
}

/**
 * Begins or ends changing notes.
 * @param from where to begin: the first note of the line from there on, or there where none is
 */
export function setWriting(isWriting: boolean, from: Spot | null = null): void {
  const study = $study.get();
  const first = study === null || from === null ? null : spotAfter(study, { ...from, startTicks: from.startTicks - 1 });
  $isWriting.set(isWriting);
  $written.set(null);
  $spot.set(isWriting ? (first ?? from) : null);
}
