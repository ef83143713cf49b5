import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyChartText } from '../parts/invented-plan.ts';
import { buildScore } from '../score/index.ts';
import { scoreOf, sourcesOf } from '../score/invented-score.ts';
import { perform } from './perform.ts';

const CHANGES = 'A:\n| Dm7 | G7 | Cmaj7 | % | Dm7 G7 | Em7 A7 | Dm7 G7 | Cmaj7 |\n';
const RUNS = { seed: 20_261_125, numRuns: 40 };

describe('perform', () => {
  it.each([
    ['tempo: 132', 8 * 4 * (60 / 132)],
    ['meter: 3/4\ntempo: 90', 8 * 3 * (60 / 90)],
    ['meter: 2/2\ntempo: 60', 8 * 2],
    ['meter: 12/8\ntempo: 120', 8 * 4 * 0.5],
    ['pickup: 1\ntempo: 60', 7 * 4 + 1],
  ])('%s ends exactly where the chart does', (heading, seconds) => {
    // common practice: the tempo counts the metre's beats
    const bars =
      heading.startsWith('meter: 3') || heading.startsWith('meter: 2')
        ? 'A:\n| Dm7 | G7 | C6 | % | Dm7 | G7 | C6 | % |\n'
        : CHANGES;
    expect(perform(scoreOf(`${heading}\n${bars}`)).endSeconds).toBeCloseTo(seconds, 9);
  });

  it('has ascending onsets, positive lengths, velocities of 1 to 127 and nothing after the end, in any metre and feel', () => {
    fc.assert(
      fc.property(
        anyChartText,
        fc.nat(100),
        fc.integer({ min: 30, max: 400 }),
        fc.constantFrom('swing', 'even'),
        (text, seed, tempo, feel) => {
          const score = scoreOf(`tempo: ${tempo}\nfeel: ${feel}\n${text}`, seed, 3);
          const { parts, endSeconds } = perform(score);
          for (const { notes } of parts) {
            for (const [index, note] of notes.entries()) {
              const before = notes[index - 1];
              if (before !== undefined && before.writtenStartTicks < note.writtenStartTicks) {
                expect(note.startSeconds).toBeGreaterThan(before.startSeconds);
              }
              expect(note.durationSeconds).toBeGreaterThan(0);
              expect(note.startSeconds).toBeGreaterThanOrEqual(0);
              expect(note.startSeconds + note.durationSeconds).toBeLessThanOrEqual(endSeconds + 1e-9);
              expect(Number.isInteger(note.velocity) && note.velocity >= 1 && note.velocity <= 127).toBe(true);
            }
          }
        },
      ),
      RUNS,
    );
  });

  it('plays every written note once, at its key', () => {
    const score = scoreOf(CHANGES, 2, 2);
    const { parts } = perform(score);
    for (const [index, { notes }] of parts.entries()) {
      expect(notes.map((note) => note.writtenStartTicks)).toEqual(
        score.staves[index]!.notes.map((note) => note.startTicks),
      );
    }
  });

  it('leaves the score as it was: swing is heard, not written', () => {
    const sources = sourcesOf(CHANGES);
    const score = buildScore(sources);
    perform(score);
    expect(score).toEqual(buildScore(sources));
  });

  it.each(['meter: 6/8', 'meter: 12/8', 'meter: 7/8', 'meter: 3/8', 'feel: even'])(
    'is straight and in time with %s',
    (heading) => {
      const bars = heading.endsWith('even') ? CHANGES : 'A:\n| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 | Cmaj7 | % |\n';
      const score = scoreOf(`${heading}\n${bars}`, 3, 2);
      const { parts, endSeconds } = perform(score);
      const secondsATick = endSeconds / score.endTicks;
      for (const note of parts.flatMap(({ notes }) => notes)) {
        expect(note.startSeconds).toBeCloseTo(note.writtenStartTicks * secondsATick, 9);
      }
    },
  );

  it('accents the second and fourth beats of the bass', () => {
    const bass = perform(scoreOf('A:\n| Dm7 | G7 |\n')).parts.find(({ player }) => player === 'left hand')!;
    const [one, two, three, four] = bass.notes.map((note) => note.velocity) as [number, number, number, number];
    expect(two).toBeGreaterThan(one);
    expect(four).toBeGreaterThan(three);
  });
});
