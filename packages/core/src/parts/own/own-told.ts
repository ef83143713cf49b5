import { isPracticalStep, type HandSize } from '../../hand/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { midiOf } from '../../theory/index.ts';
import type { ChorusNote } from '../chorus/chorus.ts';
import { PHRASE_GAP_TICKS } from '../chorus/phrase.ts';
import type { PartNote } from '../note.ts';
import type { NotePin } from './note-pin.ts';
import { namedNotes, readPin, type NamedOwnNote } from './own-stretch.ts';

/**
 * What a teacher's notes over one chord are called and do, as they are written, before anything is made of them.
 * @param line the line they stand in: what follows the last one may be composed
 * @returns none where the pin does not fit
 */
export function ownNotesTold(plan: Plan, pin: NotePin, line: readonly PartNote[]): readonly NamedOwnNote[] {
  const read = readPin(plan, pin);
  if (read.kind !== 'fits') return [];
  const { stretch } = read;
  const last = stretch.notes.at(-1);
  const next =
    last === undefined
      ? undefined
      : line.find(
          ({ startTicks }) => startTicks >= stretch.endTicks && startTicks === last.startTicks + last.durationTicks,
        );
  const after =
    next === undefined
      ? undefined
      : { key: midiOf(next.pitch), name: next.pitch.name, slot: plan.slots[next.slotIndex] as PlannedSlot };
  return namedNotes(plan, pin.part, stretch, after);
}

/**
 * Whether the hand leaps to a note from the one before it: farther than the two fingers reach in practice (Balliauw and others 2017,
 * for the hand's size). Never after a breath.
 * @param index of the note in the chorus
 */
export function isLeap(chorus: readonly ChorusNote[], index: number, hand: HandSize): boolean {
  const [before, note] = [chorus[index - 1], chorus[index]];
  if (before === undefined || note === undefined) return false;
  if (note.startTicks - before.startTicks - before.durationTicks >= PHRASE_GAP_TICKS) return false;
  const placed = ({ pitch, finger }: ChorusNote) => ({ key: midiOf(pitch), finger });
  return !isPracticalStep(placed(before), placed(note), hand);
}
