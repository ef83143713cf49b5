/** The judge on recorded players. Sources: checks/take/recordings.ts (R); the medians they are set beside are computed there (C). */
import { describe, expect, test } from 'vitest';
import { judgeTake } from '@fivespan/core';
import { HAS_RECORDINGS, median, recordedTakes } from '../performance/swing-recordings.ts';
import { plainLesson, rideTakes, trioTakes } from './recordings.ts';

describe.skipIf(!HAS_RECORDINGS)(`recorded players${HAS_RECORDINGS ? '' : ': open data not here'}`, () => {
  const lesson = plainLesson();
  const judge = ({ notes, tempoBpm }: { notes: ReturnType<typeof trioTakes>[number]['notes']; tempoBpm: number }) =>
    judgeTake(lesson, notes, tempoBpm);
  const trios = HAS_RECORDINGS ? trioTakes().map((take) => ({ take, judged: judge(take) })) : [];
  const rides = HAS_RECORDINGS ? rideTakes().map((take) => ({ take, judged: judge(take) })) : [];
  const theirs = new Map((HAS_RECORDINGS ? recordedTakes() : []).map((each) => [each.name, each]));

  test('they are there', () => {
    expect(trios.length).toBeGreaterThanOrEqual(15);
    expect(rides.length).toBeGreaterThanOrEqual(6);
  });

  test('none rushes: against their own annotated beats, or a click', () => {
    for (const { take, judged } of [...trios, ...rides]) {
      expect(
        judged.findings.filter(({ code }) => code === 'time.rushing'),
        take.name,
      ).toEqual([]);
    }
  });

  test('no bass player is called uneven', () => {
    for (const { take, judged } of trios) {
      expect(
        judged.findings.map(({ code }) => code),
        take.name,
      ).not.toContain('left.uneven');
      expect(judged.left.time.stray?.value, take.name).toBeLessThan(26);
    }
  });

  test('the ride swings as its strokes do: within a seventh of the median of its own pairs of eighths', () => {
    for (const { take, judged } of rides) {
      const own = median(theirs.get(take.name)?.ride ?? []);
      const found = judged.right.time.swing?.value ?? 0;
      expect(Math.abs(found - own) / own, `${take.name}: ${found} for ${own}`).toBeLessThan(1 / 7);
    }
  });
});
