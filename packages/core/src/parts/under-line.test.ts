import { expect, it } from 'vitest';
import { randomSource } from '../random.ts';
import { midiOf } from '../theory/index.ts';
import { improviseChorus } from './chorus/index.ts';
import { analysisOf, planOf } from './invented-plan.ts';
import { walkBass } from './walking-bass.ts';

const TUNE = 'key: Eb major\n| Fm7 | Bb7 | Ebmaj7 | C7 | Fm7 | Bb7 | Gm7 | C7alt | Fm7 | Abm6 | Ebmaj7 | % |\n';

const PLAN = planOf(TUNE, 3);
const SEEDS = Array.from({ length: 16 }, (_, seed) => seed);
const LINES = SEEDS.map((seed) => improviseChorus(PLAN, { level: 3, random: randomSource(seed, 'chorus') }));

/** Minor ninths on strong beats and octaves that run in parallel, counted for one chorus over its bass. */
function countRubs(seed: number, listens: boolean): { ninths: number; parallels: number } {
  const line = LINES[seed] ?? [];
  const options = { level: 3, line: listens ? line : [] } as const;
  const bass = walkBass(analysisOf(TUNE), randomSource(seed, 'bass'), options);
  const over = (ticks: number): number | undefined =>
    line
      .filter((note) => note.startTicks <= ticks && note.startTicks + note.durationTicks > ticks)
      .map(({ pitch }) => midiOf(pitch))[0];
  let [ninths, parallels] = [0, 0];
  for (const [index, note] of bass.entries()) {
    const above = over(note.startTicks);
    if (above === undefined) continue;
    const interval = (above - midiOf(note.pitch) + 120) % 12;
    const isFree = note.function !== 'root' && note.function !== 'bass';
    if (note.startTicks % 1920 === 0 && isFree && interval === 1) ninths++;
    const before = bass[index - 1];
    const aboveBefore = before === undefined ? undefined : over(before.startTicks);
    if (before === undefined || aboveBefore === undefined) continue;
    if (interval === 0 && (aboveBefore - midiOf(before.pitch) + 120) % 12 === 0) parallels++;
  }
  return { ninths, parallels };
}

// common practice: two voices keep apart
it('a bass under a line keeps clear of minor ninths on strong beats, and of octaves in parallel', () => {
  const total = (listens: boolean): { ninths: number; parallels: number } =>
    SEEDS.map((seed) => countRubs(seed, listens)).reduce((sum, each) => ({
      ninths: sum.ninths + each.ninths,
      parallels: sum.parallels + each.parallels,
    }));
  const [deaf, listening] = [total(false), total(true)];
  expect(deaf.ninths).toBeGreaterThan(0);
  expect(listening.ninths).toBeLessThanOrEqual(deaf.ninths / 2);
  expect(listening.parallels).toBeLessThan(deaf.parallels);
});
