import { MOST_MOTIVE_PINS, motivePinOf, type MotivePin } from '@fivespan/core';
import { changePins } from './pins.ts';
import type { Study } from './study.ts';

/**
 * The finger motive that the chorus has at the chosen chord: the first that is said there, else what the teacher wrote there.
 * @returns null where there is none
 */
export function motiveHere({ lesson, slotIndex }: Pick<Study, 'lesson' | 'slotIndex'>): MotivePin | null {
  const over = lesson.chorus.filter((note) => note.slotIndex === slotIndex);
  const said = over.find(({ motive }) => motive !== null)?.motive ?? null;
  const notes =
    said === null
      ? over.filter(({ own }) => own === true)
      : lesson.chorus.filter(({ motive }) => motive?.statement === said.statement);
  return motivePinOf(notes);
}

/** Whether another motive may be given. */
export function canGiveMotive({ choices }: Pick<Study, 'choices'>): boolean {
  return choices.pins.parts.motives.length < MOST_MOTIVE_PINS;
}

/** Makes the chorus of a motive, and of those given before. */
export function giveMotive(motive: MotivePin): void {
  changePins(({ parts, ...others }) => ({ ...others, parts: { ...parts, motives: [...parts.motives, motive] } }));
}

/** Lets a motive go: without any the chorus has its own. */
export function letMotiveGo(index: number): void {
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: { ...parts, motives: parts.motives.filter((_, at) => at !== index) },
  }));
}
