/**
 * The walking bass at its four levels and in every feel, by its rules (parts/bass-faults.ts, written from the rules), over our own
 * charts, odd metres, short chords and slash chords. Orderings: Weimar Jazz Database, automatic bass track (reference section 5; C):
 * the root most often on beat one, then three; the half step the commonest approach. The rest is common practice.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import {
  analyse,
  BASS_FEELS,
  bassFaults,
  DEFAULT_CHOICES,
  formatKey,
  midiOf,
  pitchClassOf,
  randomSource,
  readChart,
  transposeChart,
  usualKeys,
  walkBass,
  type Analysis,
  type BassNote,
  type BassRange,
  type Chart,
} from '@fivespan/core';

const EXAMPLES = new URL('../../examples/', import.meta.url);
const OWN = readdirSync(EXAMPLES)
  .filter((name) => name.endsWith('.chart'))
  .map((name) => readFileSync(new URL(name, EXAMPLES), 'utf8'));
const MORE = [
  'meter: 3/4\nA:\n| Fm7 | Bb7 | Ebmaj7 | % | Fm7 Bb7 Ebmaj7 | C+7 | Fm7 | Bb7sus |\n',
  'meter: 5/4\nA:\n| Fm7 | Bb7 | Fm7 / / Bb7 / | Ebmaj7 | % |\n',
  'meter: 7/4\nA:\n| Fm7 | Bb7 / / / Ebmaj7 / / | % |\n',
  'A:\n| F7 | % | % | % | Bb7 | % | F7 | % |\n',
  'A:\n| Gm7 | C7 | Gm7 | C7 | Gm7 C7 | Am7 Dm7 | Gm7 Gm7 C7 C7 | Fmaj7 / / Gm7 |\n',
  'feel: even\nA:\n| Eb/G | Abmaj7 | Bb7/Ab | Eb/G Gbdim7 | Fm7 | N.C. | Bb7/F | Eb/Bb |\n',
];
const LEVELS = [1, 2, 3, 4] as const;
const FEELS = [null, ...BASS_FEELS] as const;

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
  return read.value;
}
const analysisOf = (chart: Chart): Analysis => analyse(chart, DEFAULT_CHOICES.pins.analysis);
const CHARTS = [...OWN, ...MORE].map(chartOf);
const ANALYSES = CHARTS.map(analysisOf);

test.each(LEVELS.flatMap((level) => FEELS.map((feel) => [level, feel] as const)))(
  'level %d, feel %s keeps every rule',
  (level, feel) => {
    for (const [place, analysis] of ANALYSES.entries()) {
      for (const [seed, range] of ['left hand', 'double bass'].entries() as ArrayIterator<[number, BassRange]>) {
        const line = walkBass(analysis, randomSource(seed, 'bass'), { level, feel, range });
        expect(line.length, `chart ${place}`).toBeGreaterThan(0);
        expect(bassFaults(analysis, line, range), `chart ${place}, seed ${seed}, ${range}`).toEqual([]);
      }
    }
  },
);

test('a line moved by a semitone breaks rules, and so does a bar that comes three times', () => {
  const analysis = ANALYSES[0] as Analysis;
  const line = walkBass(analysis, randomSource(1, 'bass'), { level: 2 });
  const moved = line.map((note): BassNote => ({
    ...note,
    pitch: { ...note.pitch, name: note.pitch.name + 7 } as never,
  }));
  expect(bassFaults(analysis, moved).length).toBeGreaterThan(line.length / 4);
  const still = analysisOf(chartOf('A:\n| F7 | % | % | % |\n'));
  const [bar] = [walkBass(still, randomSource(1, 'bass')).slice(0, 4)];
  const again = [0, 1, 2, 3].flatMap((index) =>
    bar.map((note) => ({ ...note, slotIndex: index, startTicks: note.startTicks + index * 3840 })),
  );
  expect(bassFaults(still, again).join()).toContain('third time');
});

test.each(LEVELS)('level %d: roots on one before three before two and four; the half step leads most', (level) => {
  const roots = [0, 0, 0, 0];
  const ways: Record<string, number> = {};
  for (const analysis of ANALYSES.filter(({ chart }) => chart.meter.count === 4)) {
    for (let seed = 0; seed < 2; seed++) {
      const line = walkBass(analysis, randomSource(seed, 'bass'), { level, feel: 'four' });
      for (const note of line) {
        const { played, chord } = analysis.slots[note.slotIndex]!;
        const beat = (note.startTicks - played.playedBar.startTicks) / 960;
        const isRoot = midiOf(note.pitch) % 12 === pitchClassOf(chord!.bass ?? chord!.root);
        if (isRoot && Number.isInteger(beat)) roots[beat]!++;
        const way = (note.why.args['by'] ?? '').split(' ')[0] as string;
        if (note.function === 'approach' && way !== '') ways[way] = (ways[way] ?? 0) + 1;
      }
    }
  }
  expect(roots[0]).toBeGreaterThan(roots[2]!);
  expect(roots[2]).toBeGreaterThan(roots[1]!);
  expect(roots[2]).toBeGreaterThan(roots[3]!);
  expect(ways['half']).toBeGreaterThan(ways['scale'] ?? 0);
  expect(ways['half']).toBeGreaterThan(ways['dominant'] ?? 0);
});

test('level 2 has chord tones and approaches alone; 3 passes by scale and half step; 4 breaks the time', () => {
  const has = (level: 1 | 2 | 3 | 4): Set<string> =>
    new Set(
      ANALYSES.flatMap((analysis) =>
        [0, 1].flatMap((seed) =>
          walkBass(analysis, randomSource(seed, 'bass'), { level, feel: 'four' }).map((note) => note.function),
        ),
      ),
    );
  expect(has(1)).toEqual(new Set(['root', 'bass', 'fifth', 'approach']));
  expect(has(2)).toEqual(new Set(['root', 'bass', 'third', 'fifth', 'seventh', 'approach']));
  for (const each of ['scale', 'enclosure'] as const) expect(has(3)).toContain(each);
  for (const each of ['skip', 'drop', 'pedal'] as const) expect(has(4)).toContain(each);
});

test('an even feel has the root on one and the fifth on three, with eighths before', () => {
  const analysis = analysisOf(chartOf('key: C\nfeel: even\nA:\n| Cmaj7 | Dm7 | G7 | Cmaj7 |\n'));
  const line = walkBass(analysis, randomSource(1, 'bass'));
  const first = line.filter(({ slotIndex }) => slotIndex === 0);
  expect(first.map(({ startTicks }) => startTicks)).toEqual([0, 1440, 1920, 3360]);
  expect([first[0]?.function, first[2]?.function, first[3]?.function]).toEqual(['root', 'fifth', 'approach']);
});

/** Keys that lie otherwise in the range have other octaves, and so other tones on some weak beats: 13 of 66 measured at most. */
const MOST_OTHER_FUNCTIONS = { 1: 0, 2: 1 / 4, 3: 1 / 4, 4: 1 / 4 } as const;

test.each(LEVELS)('level %d in twelve keys: the same places, and mostly the same functions', (level) => {
  const chart = CHARTS[0] as Chart;
  for (const seed of [0, 3]) {
    const home = walkBass(ANALYSES[0] as Analysis, randomSource(seed, 'bass'), { level });
    for (const key of usualKeys('major')) {
      const moved = walkBass(analysisOf(transposeChart(chart, key)), randomSource(seed, 'bass'), { level });
      const places = (line: readonly BassNote[]): number[] => line.map(({ startTicks }) => startTicks);
      expect(places(moved), formatKey(key)).toEqual(places(home));
      const others = moved.filter((note, index) => note.function !== home[index]?.function).length;
      expect(others / home.length, formatKey(key)).toBeLessThanOrEqual(MOST_OTHER_FUNCTIONS[level]);
    }
  }
});

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

// how many octaves of root and fifth the range has depends on the root: each must have a way out
test.each(ROOTS)('root and fifth over a held %s have no figure three times running, in any feel', (root) => {
  const held = [
    `A:\n| ${root}7 | % | % | % | ${root}7 | % | % | % |\n`,
    `meter: 3/4\nA:\n| ${root}maj7 | % | % | % | Gm7 | % | % | % |\n`,
    `A:\n| ${root}7 / N.C. / | ${root}7 / N.C. / | ${root}7 / N.C. / | ${root}7 / N.C. / |\n`,
  ];
  for (const text of held) {
    const analysis = analysisOf(chartOf(text));
    for (const feel of BASS_FEELS) {
      for (const [seed, range] of ['left hand', 'double bass'].entries() as ArrayIterator<[number, BassRange]>) {
        const line = walkBass(analysis, randomSource(seed, 'bass'), { level: 1, feel, range });
        expect(bassFaults(analysis, line, range), `${text}${feel}, seed ${seed}, ${range}`).toEqual([]);
      }
    }
  }
});
