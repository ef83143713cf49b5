import { describe, expect, test } from 'vitest';
import { readChart } from '../chart/index.ts';
// a lesson is what the judge is given; its maker is above this room
import { DEFAULT_CHOICES, makeLesson } from '../lesson/index.ts';
import { randomSource } from '../random.ts';
import { heardKey } from './heard-key.ts';
import { judgeTake } from './judge.ts';
import type { HeardNote } from './take.ts';
import { onFoundBeats } from './tempo-curve.ts';

const chart = readChart(
  'title: Test\ntempo: 120\nA:\n| Dm7 | G7 | Cmaj7 | A7 |\n| Dm7 | G7 | Em7 | A7 |\n| Fm7 | Bb7 | Cmaj7 | % |\n| Dm7 | G7 | Cmaj7 | A7 |\n',
);
if (!chart.ok) throw new TypeError('text must be a chart');
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);

/** The clock of somebody without one: slower or faster on the whole, and in waves of some bars. */
const clock =
  (speed: number, depth: number) =>
  (seconds: number): number =>
    1.7 + speed * (seconds + depth * 3 * Math.sin(seconds / 3));

function played(at: (seconds: number) => number, choruses: number, seed: number): HeardNote[] {
  const random = randomSource(seed, 'free');
  const { parts, endSeconds } = lesson.performance;
  return Array.from({ length: choruses }, (_, chorus) =>
    parts.flatMap(({ player, notes }) =>
      (['right hand', 'left hand'].includes(player) ? notes : []).map(
        ({ startSeconds, durationSeconds, midi, velocity }): HeardNote => {
          const start = startSeconds + chorus * endSeconds;
          return {
            startSeconds: at(start) + (random.integer(31) - 15) / 1000,
            durationSeconds: at(start + durationSeconds) - at(start),
            key: midi,
            velocity,
            hand: player === 'left hand' ? 'left' : 'right',
          };
        },
      ),
    ),
  )
    .flat()
    .sort((a, b) => a.startSeconds - b.startSeconds);
}

describe('a take without a click', () => {
  test.each([
    [1, 0],
    [1.3, 0.06],
    [1.7, 0.05],
  ])('%f times as long, in waves of %f: every note comes to its place, and nothing is raised', (speed, depth) => {
    const at = clock(speed, depth);
    const found = onFoundBeats(lesson, played(at, 2, 7), 120);
    expect(found).not.toBeNull();
    if (found === null) return;
    expect(Math.abs(found.tempoBpm * speed - 120)).toBeLessThan(8);
    const steady = played((seconds) => seconds, 2, 7);
    const off = found.notes.map(({ startSeconds }, index) => {
      const share = (startSeconds * found.tempoBpm) / 120 - (steady[index] as HeardNote).startSeconds;
      return Math.abs(share);
    });
    expect(Math.max(...off)).toBeLessThan(0.15);
    const judged = judgeTake(lesson, found.notes, found.tempoBpm, false);
    expect(judged.findings.map(({ code }) => code)).toEqual([]);
  });

  test('in another key it is found as well', () => {
    const notes = played(clock(1.3, 0.06), 1, 7).map((each) => ({ ...each, key: each.key + 3 }));
    const found = onFoundBeats(lesson, notes, 120);
    expect(Math.abs((found?.tempoBpm ?? 0) * 1.3 - 120)).toBeLessThan(8);
    expect(heardKey(lesson, found?.notes ?? [], found?.tempoBpm ?? 120)?.semitones).toBe(3);
  });

  test('at the tempo of the chart from the start on it is as to a click; strokes at random, or a few: too little to say', () => {
    expect(
      onFoundBeats(
        lesson,
        played((seconds) => seconds, 1, 7),
        120,
      ),
    ).toBeNull();
    const random = randomSource(3, 'noise');
    const noise = played(clock(1, 0), 1, 1).map((each) => ({
      ...each,
      startSeconds: random.integer(32_000) / 1000,
      key: 40 + random.integer(40),
    }));
    noise.sort((a, b) => a.startSeconds - b.startSeconds);
    expect(onFoundBeats(lesson, noise, 120)).toBeNull();
    expect(onFoundBeats(lesson, noise.slice(0, 10), 120)).toBeNull();
  });
});
