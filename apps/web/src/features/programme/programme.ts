import {
  LONGEST_PROGRAMME_MINUTES,
  MOST_PROGRAMME_CHORUSES,
  programmeMinutes,
  shownKey,
  usualProgramme,
  type Programme,
  type ProgrammeChorus,
} from '@fivespan/core';
import { computed } from 'nanostores';
import { $made, $open, changeLesson } from '../open-lesson/index.ts';

/** The open lesson's programme: the one kept with it, else the usual one; null before the lesson has been made. */
export const $programme = computed([$open, $made], (open, made): Programme | null => {
  if (open === null) return null;
  if (open.choices.programme !== null) return open.choices.programme;
  // while the lesson is being made again the last key will do: it seldom changes
  const { chart, choices } = open;
  const key = chart === null ? null : (shownKey(chart, choices) ?? made?.lesson.analysis.key ?? null);
  return chart === null || key === null ? null : usualProgramme(chart, key);
});

/** Whether the programme is the lesson's own, and not the usual one. */
export const $isProgrammeKept = computed($open, (open) => (open?.choices.programme ?? null) !== null);

/**
 * Changes the programme and keeps it with the lesson.
 * @param together changes of one name that follow each other are undone together
 */
export function changeProgramme(change: (programme: Programme) => Programme, together?: string): void {
  const programme = $programme.get();
  if (programme === null) return;
  const changed = change(programme);
  if (changed.choruses.length === 0 || changed.choruses.length > MOST_PROGRAMME_CHORUSES) return;
  changeLesson({ choices: { programme: changed }, ...(together === undefined ? {} : { together }) });
}

/** What is wrong with a programme as a whole; null where it can be played. */
export function programmeFault(programme: Programme): 'too many' | 'too long' | null {
  if (programme.choruses.length > MOST_PROGRAMME_CHORUSES) return 'too many';
  return lengthMinutes(programme) > LONGEST_PROGRAMME_MINUTES ? 'too long' : null;
}

/** Goes back to the usual programme. */
export function forgetProgramme(): void {
  changeLesson({ choices: { programme: null } });
}

/** Replaces one row. */
export function withChorus({ choruses, ...rest }: Programme, row: number, change: Partial<ProgrammeChorus>): Programme {
  return { ...rest, choruses: choruses.map((each, index) => (index === row ? { ...each, ...change } : each)) };
}

/** Puts a copy of a row after it. */
export function withCopy({ choruses, ...rest }: Programme, row: number): Programme {
  const copied = choruses[row];
  return copied === undefined ? { ...rest, choruses } : { ...rest, choruses: choruses.toSpliced(row + 1, 0, copied) };
}

/** Takes a row out; the last one stays: something must be played. */
export function withoutChorus({ choruses, ...rest }: Programme, row: number): Programme {
  return { ...rest, choruses: choruses.length === 1 ? choruses : choruses.toSpliced(row, 1) };
}

/** Moves a row up (−1) or down (1). */
export function withMoved({ choruses, ...rest }: Programme, row: number, by: -1 | 1): Programme {
  const moved = choruses[row];
  const to = row + by;
  if (moved === undefined || to < 0 || to >= choruses.length) return { ...rest, choruses };
  return { ...rest, choruses: choruses.toSpliced(row, 1).toSpliced(to, 0, moved) };
}

/** Every tempo from one to another in equal steps, the last one exactly; downwards where it is slower. */
export function tempoLadder(fromBpm: number, toBpm: number, stepBpm: number): number[] {
  if (!(stepBpm >= 1)) throw new RangeError(`stepBpm must be 1 or more, not ${stepBpm}`);
  const way = Math.sign(toBpm - fromBpm);
  const steps = Math.ceil(Math.abs(toBpm - fromBpm) / stepBpm);
  return Array.from({ length: steps + 1 }, (_, step) => (step === steps ? toBpm : fromBpm + way * step * stepBpm));
}

/** About how many minutes a programme of the open lesson's chart takes; 0 before the lesson has been made. */
export function lengthMinutes(programme: Programme): number {
  const chart = $open.get()?.chart ?? null;
  const form = $made.get()?.lesson.analysis.form;
  return chart === null || form === undefined ? 0 : programmeMinutes(chart, form, programme);
}
