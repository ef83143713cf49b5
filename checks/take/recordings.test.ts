/** The judge on recorded players. Sources: checks/take/recordings.ts (R); the medians they are set beside are computed there (C). */
import { describe, expect, test } from 'vitest';
import { DEFAULT_CHOICES, judgeTake, makeLesson } from '@fivespan/core';
import { median } from '../jtd.ts';
import { HAS_RECORDINGS, recordedTakes } from '../performance/swing-recordings.ts';
import { plainLesson, rideTakes, trioTakes } from './recordings.ts';
import { HAS_SOLOS, soloTakes } from './solos.ts';

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

/** One in sixteenths, one that goes over to off-beats, and two whose time the annotators could tell well. */
const SOLOS = [
  'SonnyStitt_BodyAndSoul',
  'WayneShorter_SpeakNoEvil',
  'BenWebster_DidYouCallHerToday',
  'CliffordBrown_Daahoud',
];

describe.skipIf(!HAS_SOLOS)(`recorded solos${HAS_SOLOS ? '' : ': open data not here'}`, () => {
  const solos = HAS_SOLOS ? soloTakes().filter(({ name }) => SOLOS.includes(name)) : [];

  test('they are there', () => expect(solos.map(({ name }) => name).sort()).toEqual(SOLOS.toSorted()));

  test.each(solos)('$name: neither rushes nor drags; swing and lateness are about what the annotators have', (solo) => {
    const lesson = makeLesson(solo.chart, DEFAULT_CHOICES);
    const { findings, right } = judgeTake(lesson, solo.notes, solo.tempoBpm);
    expect(findings.filter(({ code }) => code === 'time.rushing' || code === 'time.dragging')).toEqual([]);
    if (solo.name.startsWith('BenWebster') || solo.name.startsWith('CliffordBrown')) {
      expect(Math.abs((right.time.swing?.value ?? 0) / (solo.swing ?? 1) - 1)).toBeLessThan(0.1);
      expect(Math.abs((right.time.late?.value ?? 99) - (solo.lateMs ?? 0))).toBeLessThan(10);
    }
  });
});
