/** Files that are no music, as large as a take may be (docs/takes.md, The record): answered, not waited for. */
import { describe, expect, test } from 'vitest';
import { readChart } from '../chart/index.ts';
import { DEFAULT_CHOICES, makeLesson } from '../lesson/index.ts';
import { align } from './align.ts';
import { handsOf } from './hands.ts';
import { judgeTake } from './judge.ts';
import type { HeardNote } from './take.ts';
import { onFoundBeats } from './tempo-curve.ts';

const chart = readChart('A:\n| Fm7 | Bb7 | Ebmaj7 | % |');
if (!chart.ok) throw new TypeError('the chart must be right');
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);
const note = (startSeconds: number, key: number): HeardNote => ({
  startSeconds,
  durationSeconds: 0.1,
  key,
  velocity: 60,
  hand: 'right',
});
const MOST = 50_000;
const atOnce = Array.from({ length: MOST }, (_, index) => note(0, index % 128));

describe('the largest takes', () => {
  test('fifty thousand keys at once have their hands, low ones the left', () => {
    const hands = handsOf(atOnce);
    expect(hands).toHaveLength(MOST);
    expect([hands[0], hands[127]]).toEqual(['left', 'right']);
    expect(judgeTake(lesson, atOnce, 120).workOn.length).toBeLessThanOrEqual(2);
  });

  test('fifty thousand strokes of one key are aligned in pieces: each with its own', () => {
    const written = Array.from({ length: MOST / 5 }, (_, at) => ({ at, key: 60 }));
    const played = written.map(({ at }) => ({ startSeconds: at * 0.08, key: 60 }));
    const { matched, missed, extra } = align(written, played, 48);
    expect([matched.length + missed.length, matched.length + extra.length]).toEqual([written.length, played.length]);
    // which of many the same it begins with is open, within the band; each once, in order
    expect(missed.length).toBeLessThanOrEqual(48);
    expect(matched.every((pair, at) => at === 0 || pair.played > (matched[at - 1]?.played ?? 0))).toBe(true);
  });

  test('no beats are looked for in what is denser than hands, or longer than an hour', () => {
    expect(onFoundBeats(lesson, atOnce, 120)).toBeNull();
    const dense = Array.from({ length: 5000 }, (_, index) => note(index * 0.005, 60 + (index % 12)));
    expect(onFoundBeats(lesson, dense, 120)).toBeNull();
    const long = Array.from({ length: 6500 }, (_, index) => note(index * 0.3, 60 + (index % 12)));
    expect(onFoundBeats(lesson, long, 120)).toBeNull();
  });
});
