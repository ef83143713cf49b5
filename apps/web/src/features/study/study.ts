import { transposePins, type Choices, type Lesson, type PlannedSlot } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import { $lesson, $made, $open } from '../open-lesson/index.ts';

/** A written slot at one of the times it is played, as pins name it. */
export interface SlotName {
  readonly slot: string;
  readonly pass: number;
}

/** The chord that is studied. */
export interface Study {
  /** The lesson as last computed. */
  readonly lesson: Lesson;
  /** The choices as they are now, the pins in the key of the lesson as it is seen; it may still be on its way to them. */
  readonly choices: Choices;
  readonly isCurrent: boolean;
  /** Index of the chosen slot in the form. */
  readonly slotIndex: number;
  readonly planned: PlannedSlot;
  readonly name: SlotName;
  /** How many times the written slot is played. */
  readonly passes: number;
}

/** The chord chosen; null for the first. */
export const $chosen = atom<SlotName | null>(null);

export function nameOf({ analysed }: PlannedSlot): SlotName {
  const { slot, playedBar } = analysed.played;
  return { slot: slot.id, pass: playedBar.pass };
}

export function isSameSlot(a: SlotName, b: SlotName): boolean {
  return a.slot === b.slot && a.pass === b.pass;
}

let lastSeen: { readonly open: Choices; readonly lesson: Lesson; readonly seen: Choices } | undefined;

/** Choices with their pins in the key of the lesson that is seen; the same object for the same choices and lesson. */
function choicesSeen(open: Choices, lesson: Lesson): Choices {
  if (lastSeen?.open !== open || lastSeen.lesson !== lesson) {
    const pins = transposePins(open.pins, lesson.writtenKey, lesson.analysis.key, open.bass.range);
    lastSeen = { open, lesson, seen: pins === open.pins ? open : { ...open, pins } };
  }
  return lastSeen.seen;
}

/** What is studied; null before the first lesson is computed, and where the chart has no chord. */
export const $study = computed([$open, $made, $lesson, $chosen], (open, made, current, chosen): Study | null => {
  if (open === null || made === null) return null;
  const { lesson } = made;
  const { slots } = lesson.plan;
  const index = chosen === null ? 0 : slots.findIndex((each) => isSameSlot(nameOf(each), chosen));
  const slotIndex = Math.max(0, index);
  const planned = slots[slotIndex];
  if (planned === undefined) return null;
  const name = nameOf(planned);
  return {
    lesson,
    choices: choicesSeen(open.choices, lesson),
    isCurrent: current !== null,
    slotIndex,
    planned,
    name,
    passes: slots.filter((each) => each.analysed.played.slot.id === name.slot).length,
  };
});

/** Chooses a chord to study. */
export function chooseSlot(name: SlotName): void {
  $chosen.set(name);
}

/** The first chord again: for a lesson that is opened. */
export function forgetChosen(): void {
  $chosen.set(null);
}
