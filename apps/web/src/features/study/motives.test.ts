import { DEFAULT_CHOICES } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import { lessonOf, TWICE } from './invented-study.ts';
import { canGiveMotive, motiveHere } from './motives.ts';

describe('the motive at a chord', () => {
  it('is said by the chorus, and the chorus that is made of it says it too', () => {
    const lesson = lessonOf(TWICE);
    const slots = lesson.analysis.slots.map((_, slotIndex) => slotIndex);
    const found = slots.map((slotIndex) => motiveHere({ lesson, slotIndex })).find((each) => each !== null);
    if (found === null || found === undefined) throw new TypeError('the chorus has a motive');
    const { pins } = DEFAULT_CHOICES;
    const choices = { ...DEFAULT_CHOICES, pins: { ...pins, parts: { ...pins.parts, motives: [found] } }, seed: 9 };
    const made = lessonOf(TWICE, choices);
    const fingers = found.notes.map(({ finger }) => finger);
    const moves = (list: readonly number[]): string =>
      list
        .slice(1)
        .map((each, at) => each - (list[at] ?? 0))
        .join();
    const said = new Map<number, number[]>();
    for (const { motive, finger } of made.chorus) {
      if (motive !== null) said.set(motive.statement, [...(said.get(motive.statement) ?? []), finger]);
    }
    expect([...said.values()].map(moves)).toContain(moves(fingers));
    expect(new Set(made.chorus.flatMap(({ motive }) => (motive === null ? [] : [motive.number])))).toEqual(
      new Set([1]),
    );
    expect(canGiveMotive({ choices })).toBe(true);
  });
});
