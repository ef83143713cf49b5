import {
  computeLesson,
  DEFAULT_CHOICES,
  ENGINE_VERSION,
  readChart,
  writeLessonDocument,
  writeTake,
  type Take,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { stepOf } from './step.ts';
import { viewOfTake } from './take-view.ts';

const CHART = 'title: Ford\nkey: F major\ntempo: 120\n\nA:\n| Gm7 | C7 | Fmaj7 | % |\n| Gm7 | C7 | Fmaj7 | % |\n';
const read = readChart(CHART);
if (!read.ok) throw new Error('the chart must be right');
const computed = computeLesson(read.value, DEFAULT_CHOICES, null);
if (!computed.ok) throw new Error('the lesson must be made');
const lesson = computed.value;

const chorus = lesson.performance.parts.flatMap(({ player, notes }) => (player === 'right hand' ? notes : []));

/** The lesson's own chorus as a take; from a bar to another each key is moved. */
function takeOf(moved: { readonly fromBar: number; readonly toBar: number; readonly by: number } | null): Take {
  const barOneMicros = 4_000_000;
  return {
    engine: ENGINE_VERSION,
    lesson: 'ford',
    edition: 0,
    document: writeLessonDocument({ chartText: CHART, choices: DEFAULT_CHOICES, engine: ENGINE_VERSION }),
    programme: { tempoBpm: 120, key: 'F major', countInBars: 2, isToClick: true },
    barOneMicros,
    delayMs: 0,
    notes: chorus.map(({ startSeconds, durationSeconds, midi, velocity }) => {
      const bar = Math.floor(startSeconds / 2) + 1;
      const by = moved !== null && bar >= moved.fromBar && bar <= moved.toBar ? moved.by : 0;
      return {
        startMicros: Math.round(barOneMicros + startSeconds * 1e6),
        durationMicros: Math.round(durationSeconds * 1e6),
        key: midi + by,
        velocity,
        channel: 0,
      };
    }),
    pedals: [],
  };
}

describe('what a take shows', () => {
  test('the lesson’s own chorus: positions as written, nothing outside', () => {
    const judged = viewOfTake(writeTake(takeOf(null)));
    if (judged.kind !== 'judged') throw new Error('it must be read');
    const { bars, workOn, wentWell } = judged.view;
    expect(bars.length).toBeGreaterThanOrEqual(7);
    expect(bars.map(({ place }) => place)).toEqual(bars.map(({ number }) => number - 1));
    expect(bars.flatMap(({ slots }) => slots).filter(({ kind }) => kind === 'outside')).toEqual([]);
    expect(workOn.map(({ code }) => code)).not.toContain('position.wrong');
    expect(wentWell.length).toBeGreaterThan(0);
  });
  test('two bars a half step off: told with their bars, and the step loops just these, slower', () => {
    const judged = viewOfTake(writeTake(takeOf({ fromBar: 3, toBar: 4, by: 1 })));
    if (judged.kind !== 'judged') throw new Error('it must be read');
    const { view } = judged;
    const wrong = view.workOn.find(({ code }) => code === 'position.wrong');
    if (wrong === undefined) throw new Error('it must be heard');
    expect(wrong.bars.every((bar) => bar === 3 || bar === 4)).toBe(true);
    const step = stepOf(wrong, view);
    expect(step).toMatchObject({ kind: 'loop', tempoBpm: 92 });
    if (step.kind !== 'loop') return;
    expect([step.first, step.fromPlace]).toEqual([wrong.bars[0], (wrong.bars[0] ?? 0) - 1]);
  });
  test('damaged text is told, never thrown', () => {
    for (const text of [
      '',
      '{}',
      writeTake(takeOf(null)).replace('title: Ford', ''),
      writeTake({ ...takeOf(null), document: '{}' }),
    ]) {
      expect(() => viewOfTake(text)).not.toThrow();
    }
    expect(viewOfTake(writeTake({ ...takeOf(null), document: '{}' })).kind).toBe('damaged');
  });
});
