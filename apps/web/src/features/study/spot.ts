import { LINES, PARTS, type Lesson, type LineId, type Pitch, type Reason } from '@fivespan/core';
import { atom } from 'nanostores';
import type { TracedNote } from '../engraving/index.ts';
import type { Study } from './study.ts';

/** Whether notes are being changed, or only looked at. */
export const $isWriting = atom(false);

/** What notes can be changed of: a line, or the voicings. */
export type WritablePart = LineId | 'voicings';

/** Whether what is written is a line; voicings are held. */
export const isLine = (part: WritablePart): part is LineId => LINES.some((each) => each === part);

/** Where one writes: the note that begins there, if any does; of a voicing, which of its keys, from the lowest. */
export interface Spot {
  readonly part: WritablePart;
  readonly startTicks: number;
  readonly place?: number;
}

export const $spot = atom<Spot | null>(null);

/** What was just written, told before it is engraved. */
export interface Written {
  readonly pitch: Pitch;
  readonly startTicks: number;
  readonly part: WritablePart;
  readonly why: Reason;
}

export const $written = atom<Written | null>(null);

/** What a written part is, where its notes can be changed. */
export function writablePart(role: TracedNote['role']): WritablePart | undefined {
  const part = PARTS.find(({ staff }) => staff === role);
  return part?.group === 'voicings' ? 'voicings' : LINES.find((each) => each === part?.id);
}

/** The staves a voicing is written on, the lower one first. */
const VOICING_STAVES = PARTS.filter(({ group }) => group === 'voicings').toSorted((a) => (a.hand === 'left' ? -1 : 1));

/** The notes of the voicing that begins at a tick, from the lowest: of which staff, and the how many-th of it. */
function voicingAt(
  lesson: Lesson,
  startTicks: number,
): { readonly role: TracedNote['role']; readonly index: number }[] {
  return VOICING_STAVES.flatMap(({ id, staff }) =>
    lesson[id].flatMap((note, index) => (note.startTicks === startTicks ? [{ role: staff, index }] : [])),
  );
}

/** The note of a staff by its place there. */
function tracedAt(lesson: Lesson, role: TracedNote['role'], index: number): TracedNote | undefined {
  const part = PARTS.find(({ staff }) => staff === role);
  const source = part === undefined ? undefined : lesson[part.id][index];
  const written = lesson.score.staves.find((each) => each.role === role)?.notes[index];
  if (source === undefined || written === undefined) return undefined;
  return { role, written, slotIndex: source.slotIndex, why: source.why };
}

/** The written note at a spot. */
export function noteAtSpot(
  { lesson }: Pick<Study, 'lesson'>,
  { part, startTicks, place = 0 }: Spot,
): TracedNote | undefined {
  if (!isLine(part)) {
    const found = voicingAt(lesson, startTicks)[place];
    return found === undefined ? undefined : tracedAt(lesson, found.role, found.index);
  }
  const staff = PARTS.find(({ id }) => id === part)?.staff;
  const index = lesson[part].findIndex((each) => each.startTicks === startTicks);
  return staff === undefined ? undefined : tracedAt(lesson, staff, index);
}

/** Where a written note is; undefined where it cannot be changed. */
export function spotOf(lesson: Lesson, { role, written }: TracedNote): Spot | undefined {
  const part = writablePart(role);
  if (part === undefined) return undefined;
  const { startTicks } = written;
  if (isLine(part)) return { part, startTicks };
  const place = voicingAt(lesson, startTicks).findIndex(
    (each) => each.role === role && tracedAt(lesson, role, each.index)?.written === written,
  );
  return place < 0 ? undefined : { part, startTicks, place };
}

export function isSameSpot(a: Spot | null, b: Spot | null): boolean {
  return a?.part === b?.part && a?.startTicks === b?.startTicks && (a?.place ?? 0) === (b?.place ?? 0);
}

/** Index of the slot that sounds at a tick. */
export function slotIndexAt({ lesson }: Pick<Study, 'lesson'>, ticks: number): number {
  return Math.max(
    0,
    lesson.plan.slots.findLastIndex(({ analysed }) => analysed.played.startTicks <= ticks),
  );
}

/** What is done to the note one stands on. */
export type WritingOrder =
  | { readonly kind: 'step'; readonly steps: number }
  | { readonly kind: 'half steps'; readonly semitones: number }
  // played on a keyboard: the next note is the next to be changed
  | { readonly kind: 'played'; readonly key: number }
  | { readonly kind: 'last'; readonly durationTicks: number }
  | { readonly kind: 'dotted' }
  | { readonly kind: 'shift'; readonly way: 1 | -1 }
  | { readonly kind: 'take out' }
  | { readonly kind: 'add' };
