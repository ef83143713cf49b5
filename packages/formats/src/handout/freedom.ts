import {
  allowedFamilies,
  midi,
  pitchClassOf,
  type AllowedFamily,
  type Lesson,
  type Midi,
  type PlannedSlot,
} from '@fivespan/core';
import { shapeMarks } from '../diagram/index.ts';
import { usedPositions, type UsedPosition } from './used-positions.ts';

/** Where a free hand may go in a lesson. */
export interface Freedom {
  readonly allowedAt: (slot: PlannedSlot) => readonly AllowedFamily[];
  /** Signs of shapes, those of second families among them. */
  readonly marks: ReturnType<typeof shapeMarks>;
}

/** Every family that the slots of a lesson allow, with the signs that tell their shapes. */
export function freedomOf(lesson: Lesson): Freedom {
  const allowedAt = allowedFamilies(lesson.choices.pins.plan, lesson.choices.hand);
  const shapes = lesson.plan.slots.flatMap((slot) => allowedAt(slot).map(({ family }) => family.shape));
  return { allowedAt, marks: shapeMarks(lesson, shapes) };
}

/** Whether the hand may do the same every time a written bar is played. */
export function isSameFreedomEveryTime({ plan }: Lesson, { allowedAt }: Freedom): boolean {
  const seen = new Map<string, string>();
  return plan.slots.every((slot) => {
    const { id } = slot.analysed.played.slot;
    const freedom = allowedAt(slot)
      .flatMap(({ which, positions }) => positions.map(({ shape, thumb }) => `${which} ${shape.id} ${thumb}`))
      .join();
    const before = seen.get(id) ?? freedom;
    seen.set(id, before);
    return before === freedom;
  });
}

/** All pictures are of one stretch of keys: thumbs from this F up. */
const LOWEST_THUMB = 53;

function thumbIn(pitchClass: number): Midi {
  return midi(LOWEST_THUMB + ((pitchClass - LOWEST_THUMB + 120) % 12));
}

/** Every position that the hand may take, each once, in the order in which it may first be taken. */
export function freePositions(lesson: Lesson, { allowedAt }: Freedom): UsedPosition[] {
  // a plan in which the hand is everywhere it may be: the same gathering as for a route
  const slots = lesson.plan.slots.flatMap((slot) => {
    if (slot.thumbMidi === null || slot.position === null) return [];
    return allowedAt(slot).flatMap(({ chordScale, family, positions }) =>
      positions.map((position) => ({
        ...slot,
        chordScale,
        family,
        position,
        thumbMidi: thumbIn(pitchClassOf(position.thumb)),
      })),
    );
  });
  return usedPositions({ ...lesson, plan: { ...lesson.plan, slots } });
}
