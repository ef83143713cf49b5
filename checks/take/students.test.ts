/**
 * Synthetic students, one fault at a time (checks/take/students.ts; spreads measured on open data, C). A small sample here, with seeds
 * that nothing was tuned on; `bench/take-students.ts` takes as many as one likes.
 */
import { describe, expect, test } from 'vitest';
import { judgeTake } from '@fivespan/core';
import { FAULTS } from './student-faults.ts';
import { studentTake } from './students.ts';

/** Far from the seeds that the judge was tuned on (1 to 9999). */
const FIRST = 500_000;

/** Making a lesson costs more than judging many takes of it: each is played by several students. */
const LESSONS = 8;

const takes = (fault: (typeof FAULTS)[number] | null, count: number) =>
  Array.from({ length: count }, (_, index) => studentTake(FIRST + index, fault, FIRST + (index % LESSONS))).filter(
    (take) => take !== null,
  );

describe('synthetic students', () => {
  test('clean takes raise nothing but once in a hundred a kind', () => {
    const clean = takes(null, 24);
    const raised = clean.flatMap((take) =>
      judgeTake(take.lesson, take.notes, take.tempoBpm).findings.map(({ code }) => `${code}: ${take.about}`),
    );
    // two dozen takes of thirteen kinds: two alarms are chance, three are not
    expect(raised.length, raised.join('\n')).toBeLessThanOrEqual(2);
  });

  test.each(FAULTS)('%s is found', (fault) => {
    const faulty = takes(fault, 6);
    const missed = faulty.filter(
      (take) => !judgeTake(take.lesson, take.notes, take.tempoBpm).findings.some(({ code }) => code === fault),
    );
    expect(missed.length, missed.map(({ about }) => about).join('\n')).toBeLessThanOrEqual(1);
  });

  test('a left hand that strays has lost no beat for it, and a beat that is lost is told in its own bar', () => {
    const uneven = takes('left.uneven', 6).filter((take) =>
      judgeTake(take.lesson, take.notes, take.tempoBpm).findings.some(({ code }) => code === 'left.dropped'),
    );
    expect(uneven.map(({ about }) => about)).toEqual([]);
    // nor is the next note, come early by a beat, a wrong root
    const elsewhere = takes('left.dropped', 6).filter(({ lesson, notes, tempoBpm, bars }) => {
      const { findings } = judgeTake(lesson, notes, tempoBpm);
      const own = findings.find(({ code }) => code === 'left.dropped');
      return !bars.some((bar) => own?.bars.includes(bar)) || findings.some(({ code }) => code === 'left.root-wrong');
    });
    expect(elsewhere.map(({ about }) => about)).toEqual([]);
  });

  test('at most two things are given to work on, each with bars and words', () => {
    for (const fault of FAULTS) {
      for (const take of takes(fault, 1)) {
        const { workOn } = judgeTake(take.lesson, take.notes, take.tempoBpm);
        expect(workOn.length).toBeLessThanOrEqual(2);
      }
    }
  });

  test('a bass that drags by 25 ms a bar has lost no beat for it', () => {
    const take = studentTake(9005, null);
    if (take === null) throw new TypeError('seed must have a take');
    const barSeconds = (4 * 60) / take.tempoBpm;
    const notes = take.notes.map((note) => ({ ...note, startSeconds: note.startSeconds * (1 + 0.025 / barSeconds) }));
    const codes = judgeTake(take.lesson, notes, take.tempoBpm).findings.map(({ code }) => code);
    expect(codes).toContain('time.dragging');
    expect(codes).not.toContain('left.dropped');
  });
});
