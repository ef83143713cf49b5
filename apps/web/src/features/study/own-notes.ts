import {
  editNotes,
  keyByStep,
  ownNotesTold,
  PARTS,
  pinOfStretch,
  pitchAt,
  shiftNote,
  type LineId,
  type NoteEdit,
  type NotePin,
  type PartNote,
  type PlannedSlot,
} from '@fivespan/core';
import { noteHeard } from './hearing.ts';
import { writeVoicing } from './own-voicing.ts';
import { changePins } from './pins.ts';
import { sound } from './sounding.ts';
import { $isWriting, $spot, $written, isLine, slotIndexAt, type Spot, type WritingOrder } from './spot.ts';
import { $study, isSameSlot, nameOf, type SlotName, type Study } from './study.ts';

/** The part of the choices that says what is written over a chord now, whether or not the lesson is made of it yet. */
function pinNow({ lesson, choices }: Study, part: LineId, slotIndex: number): NotePin {
  const composed = pinOfStretch(lesson.plan, part, lesson[part], slotIndex);
  const own = choices.pins.parts.notes.findLast((each) => each.part === part && isSameSlot(each, composed));
  // what is written anew is written over the chord as it is
  return own === undefined ? composed : { ...own, over: composed.over };
}

/** The first note that begins in a line after a tick, as it is now; undefined where none does. */
function spotAfter(study: Study, part: LineId, startTicks: number): Spot | undefined {
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
function editOf(
  order: Exclude<WritingOrder, { kind: 'shift' }>,
  slot: PlannedSlot,
  pin: NotePin,
  index: number,
  fallback: number,
): NoteEdit {
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

/** How far a note is moved in time: an eighth, or its own length where it is shorter. */
const STEP_IN_TIME_TICKS = 480;

/** A note moved earlier or later, over a change of chord too. */
function shifted(study: Study, part: LineId, startTicks: number, way: 1 | -1): boolean {
  const { slots } = study.lesson.plan;
  const here = slotIndexAt(study, startTicks);
  const around = [here - 1, here, here + 1].flatMap((index) => {
    const played = slots[index]?.analysed.played;
    if (played === undefined) return [];
    const pin = pinNow(study, part, index);
    return [{ pin, index, startTicks: played.startTicks, endTicks: played.endTicks, notes: pin.notes }];
  });
  const note = around
    .flatMap((each) => each.notes.map((one) => ({ ...one, at: each.startTicks + one.onsetTicks })))
    .find(({ at }) => at === startTicks);
  const byTicks = way * Math.min(STEP_IN_TIME_TICKS, note?.durationTicks ?? 0);
  const moved = note === undefined ? undefined : shiftNote(around, startTicks, byTicks);
  if (moved === undefined) return false;
  const changed = moved.stretches.flatMap(({ notes }, at): NotePin[] => {
    const before = around[at];
    return before === undefined || isSameLine(notes, before.notes) ? [] : [{ ...before.pin, notes }];
  });
  const index = slotIndexAt(study, moved.startTicks);
  const pin = changed.find((each) => isSameSlot(each, nameOf(slots[index] as PlannedSlot)));
  if (pin !== undefined) tell(study, pin, slots[index] as PlannedSlot, moved.startTicks);
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: { ...parts, notes: changed.reduce<readonly NotePin[]>(put, parts.notes) },
  }));
  $spot.set({ part, startTicks: moved.startTicks });
  return true;
}

function isSameLine(a: NotePin['notes'], b: NotePin['notes']): boolean {
  return (
    a.length === b.length &&
    a.every(({ onsetTicks, durationTicks, key }, index) => {
      const other = b[index];
      return onsetTicks === other?.onsetTicks && durationTicks === other.durationTicks && key === other.key;
    })
  );
}

/** Does something to a line's note at the spot. */
function writeLine(study: Study, part: LineId, spot: Spot, order: WritingOrder): boolean {
  if (order.kind === 'shift') return shifted(study, part, spot.startTicks, order.way);
  const slotIndex = slotIndexAt(study, spot.startTicks);
  const slot = study.lesson.plan.slots[slotIndex];
  if (slot === undefined) return false;
  const { startTicks, endTicks } = slot.analysed.played;
  const pin = pinNow(study, part, slotIndex);
  const index = indexAt(pin, spot.startTicks - startTicks, order);
  const edit = editOf(order, slot, pin, index, firstKey(slot, part));
  const formEnd = study.lesson.analysis.form.endTicks;
  const room = { lengthTicks: endTicks - startTicks, mostTicks: formEnd - startTicks };
  const edited = editNotes(pin.notes, index, edit, room);
  if (edited === undefined) return false;
  const written = { ...pin, notes: edited.notes };
  const at = edited.onsetTicks === null ? null : startTicks + edited.onsetTicks;
  // heard first: the one worker there may be takes up what is asked first
  if (at !== null) tell(study, written, slot, at);
  else $written.set(null);
  changePins(({ parts, ...others }) => ({ ...others, parts: { ...parts, notes: put(parts.notes, written) } }));
  const now = $study.get() ?? study;
  const here: Spot = { part, startTicks: at ?? spot.startTicks };
  $spot.set(order.kind === 'played' ? (spotAfter(now, part, here.startTicks) ?? here) : here);
  return true;
}

/**
 * Does something to the note at the spot: heard and told at once, and kept as the teacher's own notes over that chord.
 * @returns whether anything could be done
 */
export function write(order: WritingOrder): boolean {
  const study = $study.get();
  const spot = $spot.get();
  if (study === null || spot === null) return false;
  return isLine(spot.part) ? writeLine(study, spot.part, spot, order) : writeVoicing(study, spot, order);
}

/** The length a note at the spot has now, as the choices say; undefined where none begins there, or it is held as its chord is. */
export function lengthAt(study: Study, { part, startTicks }: Spot): number | undefined {
  const slotIndex = slotIndexAt(study, startTicks);
  const slot = study.lesson.plan.slots[slotIndex];
  if (!isLine(part) || slot === undefined) return undefined;
  const from = startTicks - slot.analysed.played.startTicks;
  return pinNow(study, part, slotIndex).notes.find(({ onsetTicks }) => onsetTicks === from)?.durationTicks;
}

/** Whether the notes over the chord at the spot are the teacher's own. */
export function isOwnAt({ lesson, choices }: Study, spot: Spot): boolean {
  const slot = lesson.plan.slots.findLast(({ analysed }) => analysed.played.startTicks <= spot.startTicks);
  const name: SlotName | null = slot === undefined ? null : nameOf(slot);
  const { voicings, notes } = choices.pins.parts;
  if (name === null) return false;
  if (!isLine(spot.part)) return voicings.some((pin) => isSameSlot(pin, name));
  return notes.some((pin) => pin.part === spot.part && isSameSlot(pin, name));
}

/** Lets the notes over the chord at the spot be composed again. */
export function composeAgain(spot: Spot): void {
  const study = $study.get();
  const slot = study?.lesson.plan.slots[study === null ? 0 : slotIndexAt(study, spot.startTicks)];
  if (slot === undefined) return;
  const name = nameOf(slot);
  const isOf = (pin: SlotName): boolean => isSameSlot(pin, name);
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: {
      ...parts,
      voicings: isLine(spot.part) ? parts.voicings : parts.voicings.filter((pin) => !isOf(pin)),
      notes: parts.notes.filter((pin) => pin.part !== spot.part || !isOf(pin)),
    },
  }));
  $written.set(null);
}

/** The first chord with a voicing from a tick on. */
function voicingFrom({ lesson }: Study, startTicks: number): Spot | undefined {
  const first = [...lesson.voicings, ...lesson.upperVoicings]
    .filter((note) => note.startTicks >= startTicks)
    .toSorted((a, b) => a.startTicks - b.startTicks)[0];
  return first === undefined ? undefined : { part: 'voicings', startTicks: first.startTicks, place: 0 };
}

/**
 * Begins or ends changing notes.
 * @param from where to begin: the first note of the part from there on, or there where none is
 */
export function setWriting(isWriting: boolean, from: Spot | null = null): void {
  const study = $study.get();
  const { part, startTicks } = from ?? { part: 'chorus', startTicks: 0 };
  const first =
    study === null || from === null
      ? undefined
      : isLine(part)
        ? spotAfter(study, part, startTicks - 1)
        : voicingFrom(study, startTicks);
  $isWriting.set(isWriting);
  $written.set(null);
  $spot.set(isWriting ? (first ?? from) : null);
}
