/**
 * How phrases begin, end and move, beside real solos. Source: Weimar Jazz Database, notes (Frieler, Pfleiderer, Zaddach, Abesser:
 * jazzodata; authors and licence in the data's README; R): solos in four. Distances are Jensen–Shannon divergences in bits (Lin 1991,
 * from memory) between our choruses and all solos; each soloist against the others is the yardstick, the same rhythm
 * with any finger of the same positions the other end. The weights of first and last notes, gaps, lengths and last tones were set
 * looking at these solos (phrase-place.ts, following.ts), so those figures flatter; intervals, directions and repeats were not.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  analyse,
  chordToneDegrees,
  CHORUS_LEVELS,
  improviseChorus,
  midiOf,
  NO_ANALYSIS_PINS,
  NO_PLAN_PINS,
  phrasesOf,
  pitchClassOf,
  planRoute,
  randomSource,
  readChart,
  readChordSymbol,
  semitonesOf,
  stepOf,
  type Chord,
  type ChorusLevel,
  type ChorusNote,
  type Plan,
} from '@fivespan/core';
import { ourSpelling } from '../weimar-grid.ts';
import { weimarNotes } from '../weimar-solos.ts';

/** A note of a phrase: where it begins, in eighths of a bar of four, and its key. */
interface Sung {
  readonly bar: number;
  readonly eighths: number;
  readonly key: number;
  /** What it is played over: 'root', 'third', 'fifth', 'seventh' (or sixth), 'other'. */
  readonly tone: string;
}
type Phrase = readonly Sung[];

/** Shares of a feature's values. */
type Shares = ReadonlyMap<string, number>;

function shares(values: readonly (string | number)[]): Shares {
  const counts = new Map<string, number>();
  for (const value of values) counts.set(String(value), (counts.get(String(value)) ?? 0) + 1);
  return new Map([...counts].map(([value, count]) => [value, count / values.length]));
}

function distance(a: Shares, b: Shares): number {
  let sum = 0;
  for (const value of new Set([...a.keys(), ...b.keys()])) {
    const [p, q] = [a.get(value) ?? 0, b.get(value) ?? 0];
    const middle = (p + q) / 2;
    if (p > 0) sum += (p / 2) * Math.log2(p / middle);
    if (q > 0) sum += (q / 2) * Math.log2(q / middle);
  }
  return sum;
}

const movesOf = (phrase: Phrase): number[] =>
  phrase.slice(1).map((note, index) => note.key - (phrase[index] as Sung).key);
/** Which of a chord's tones a key is. */
function toneOf(chord: Chord | null, key: number): string {
  if (chord === null) return 'other';
  const above = (key - pitchClassOf(chord.root) + 12) % 12;
  const own = chordToneDegrees(chord).find((each) => (semitonesOf(each) + 12) % 12 === above);
  return own === undefined
    ? 'other'
    : (['root', 'third', 'third', 'third', 'fifth', 'seventh', 'seventh'][stepOf(own)] ?? 'other');
}

/** The data's symbols as chords, each read once. */
const symbols = new Map<string, Chord | null>();
function chordOf(theirs: string): Chord | null {
  let chord = symbols.get(theirs);
  if (chord === undefined) {
    const symbol = theirs === '' || theirs === 'NC' ? null : readChordSymbol(ourSpelling(theirs));
    chord = symbol?.ok === true && symbol.value.kind === 'chord' ? symbol.value : null;
    symbols.set(theirs, chord);
  }
  return chord;
}

const lengthOf = (phrase: Phrase): number => {
  const [first, last] = [phrase[0] as Sung, phrase.at(-1) as Sung];
  return (last.bar - first.bar) * 8 + last.eighths - first.eighths;
};

/** What is compared. Intervals only among those five fingers reach inside a position: up to a minor seventh. */
const FEATURES: Readonly<Record<string, (phrases: readonly Phrase[]) => (string | number)[]>> = {
  'first note in the bar': (phrases) => phrases.map(([first]) => Math.floor((first as Sung).eighths)),
  'last note in the bar': (phrases) => phrases.map((phrase) => Math.floor((phrase.at(-1) as Sung).eighths)),
  'notes a phrase': (phrases) => phrases.map((phrase) => Math.min(8, Math.floor(phrase.length / 4))),
  'quarters a phrase': (phrases) => phrases.map((phrase) => Math.min(10, Math.floor(lengthOf(phrase) / 4))),
  intervals: (phrases) =>
    phrases.flatMap((phrase) =>
      movesOf(phrase)
        .map(Math.abs)
        .filter((size) => size <= 10),
    ),
  contour: (phrases) =>
    phrases.flatMap((phrase) => {
      const ways = movesOf(phrase).map(Math.sign);
      return ways.slice(2).map((way, index) => `${ways[index]},${ways[index + 1]},${way}`);
    }),
  'notes a bar': (phrases) => {
    const bars = new Map<string, number>();
    for (const [index, phrase] of phrases.entries())
      for (const { bar } of phrase) bars.set(`${index} ${bar}`, (bars.get(`${index} ${bar}`) ?? 0) + 1);
    return [...bars.values()].map((count) => Math.min(12, count));
  },
  // which of them: that a phrase ends on one is a rule here (of the solos' 61 of 100 do), so those that do are compared
  'chord tones at ends': (phrases) =>
    phrases.map((phrase) => (phrase.at(-1) as Sung).tone).filter((tone) => tone !== 'other'),
  repeats: (phrases) => phrases.flatMap((phrase) => movesOf(phrase).map((move) => (move === 0 ? 'same' : 'other'))),
};

/** Phrases of four notes or more by performer; null without the data. */
function soloists(): ReadonlyMap<string, readonly Phrase[]> | null {
  const notes = weimarNotes();
  if (notes === null) return null;
  const phrases = new Map<string, Map<string, Sung[]>>();
  for (const { solo, performer, phrase, chord, ...place } of notes) {
    const sungNote: Sung = { ...place, tone: toneOf(chordOf(chord), place.key) };
    const own = phrases.get(performer) ?? new Map<string, Sung[]>();
    phrases.set(performer, own);
    const name = `${solo} ${phrase}`;
    own.set(name, [...(own.get(name) ?? []), sungNote]);
  }
  return new Map(
    [...phrases].map(([performer, own]) => [performer, [...own.values()].filter((each) => each.length >= 4)]),
  );
}

const CHARTS = ['DEMO', 'copper-wheel', 'harbour-blues', 'winter-platform'];
const SEEDS = Array.from({ length: 6 }, (_, seed) => seed + 101);

function planOf(name: string, level: ChorusLevel): Plan {
  const chart = readChart(readFileSync(join(import.meta.dirname, '..', '..', 'examples', `${name}.chart`), 'utf8'));
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return planRoute(analyse(chart.value, NO_ANALYSIS_PINS), { pins: NO_PLAN_PINS, hand: 'medium', level });
}

const sung = (
  plan: Plan,
  notes: readonly { readonly startTicks: number; readonly key: number; readonly slotIndex: number }[],
): Phrase =>
  notes.map(({ startTicks, key, slotIndex }) => ({
    bar: Math.floor(startTicks / 3840),
    eighths: (((startTicks % 3840) + 3840) % 3840) / 480,
    key,
    tone: toneOf(plan.slots[slotIndex]?.analysed.chord ?? null, key),
  }));

/** The same rhythm with any finger of the same hand on every note: what is left when nobody listens. */
function randomWalk({ plan, notes }: Made, seed: number): Phrase[] {
  const random = randomSource(seed, 'walk');
  return phrasesOf(notes).map((phrase) =>
    sung(
      plan,
      phrase.map(({ startTicks, slotIndex, octaves }) => {
        const { position, thumbMidi } = plan.slots[slotIndex] as Plan['slots'][number];
        const step = position?.shape.steps[random.integer(5)] ?? 0;
        return { startTicks, slotIndex, key: (thumbMidi ?? 0) + 12 * octaves + step };
      }),
    ),
  );
}

/** What a rhythm decides alone, so that the walk has it too. */
const RHYTHMIC = [
  'first note in the bar',
  'last note in the bar',
  'notes a phrase',
  'quarters a phrase',
  'notes a bar',
];

interface Made {
  readonly level: ChorusLevel;
  readonly plan: Plan;
  readonly notes: readonly ChorusNote[];
}

const real = soloists();

describe('phrases of our choruses', () => {
  const made: Made[] = [];
  beforeAll(() => {
    for (const level of CHORUS_LEVELS) {
      for (const name of CHARTS) {
        const plan = planOf(name, level);
        for (const seed of SEEDS) {
          made.push({ level, plan, notes: improviseChorus(plan, { level, random: randomSource(seed, 'chorus') }) });
        }
      }
    }
  }, 120_000);
  const at = (...levels: ChorusLevel[]): Made[] => made.filter(({ level }) => levels.includes(level));
  const phrasesIn = (each: readonly Made[]): ChorusNote[][] => each.flatMap(({ notes }) => phrasesOf(notes));
  const share = <Value>(values: readonly Value[], holds: (value: Value) => boolean): number =>
    values.filter(holds).length / values.length;
  const keysOf = (plan: Plan, phrase: readonly ChorusNote[]): Phrase =>
    sung(
      plan,
      phrase.map(({ startTicks, slotIndex, pitch }) => ({ startTicks, slotIndex, key: midiOf(pitch) })),
    );
  const sungIn = (each: readonly Made[]): Phrase[] =>
    each.flatMap(({ plan, notes }) => phrasesOf(notes).map((phrase) => keysOf(plan, phrase)));
  const eighthOf = ({ startTicks }: ChorusNote): number => (startTicks % 3840) / 480;

  test.skipIf(real === null)(
    'lie nearer to all soloists than the 75th percentile of one to the others, and than a random walk',
    () => {
      const soloistsOf = [...(real as NonNullable<typeof real>)].filter(([, phrases]) => phrases.length >= 12);
      expect(soloistsOf.length).toBeGreaterThan(15);
      const everyone = soloistsOf.flatMap(([, phrases]) => phrases);
      const ours = sungIn(at(3, 4));
      const walk = at(3, 4).flatMap((each, index) => randomWalk(each, index + 1));
      const table: Record<string, { ours: number; walk: number; soloists75: number }> = {};
      for (const [name, feature] of Object.entries(FEATURES)) {
        const all = shares(feature(everyone));
        const apart = soloistsOf
          .map(([performer, phrases]) =>
            distance(
              shares(feature(phrases)),
              shares(feature(soloistsOf.filter(([other]) => other !== performer).flatMap(([, each]) => each))),
            ),
          )
          .toSorted((a, b) => a - b);
        table[name] = {
          ours: distance(shares(feature(ours)), all),
          walk: distance(shares(feature(walk)), all),
          soloists75: apart[Math.floor(apart.length * 0.75)] as number,
        };
      }
      if (process.env['FIVESPAN_FIGURES'] !== undefined) {
        console.table(table);
        const ends = (each: readonly Phrase[]): Shares => shares(each.map((phrase) => (phrase.at(-1) as Sung).tone));
        console.log('ends, soloists, ours, walk:', ends(everyone), ends(ours), ends(walk));
      }
      for (const [name, { ours: own, walk: chance, soloists75 }] of Object.entries(table)) {
        expect(own, `${name}: ours against the soloists’ 75th percentile`).toBeLessThan(soloists75);
        if (!RHYTHMIC.includes(name)) expect(own, `${name}: ours against a random walk`).toBeLessThan(chance);
      }
    },
    60_000,
  );

  // The aims are our own, beside what 1,387 phrases of these solos do: 44 % begin in the first three eighths, 17 % on the commonest.
  test.each(CHORUS_LEVELS)('level %i: phrases begin anywhere, a third or more lead over a bar line', (level) => {
    const firsts = phrasesIn(at(level)).map((phrase) => eighthOf(phrase[0] as ChorusNote));
    expect(share(firsts, (each) => each < 3)).toBeLessThanOrEqual(0.6);
    for (let eighth = 0; eighth < 8; eighth++)
      expect(share(firsts, (each) => each === eighth)).toBeLessThanOrEqual(0.25);
    expect(share(firsts, (each) => each >= 5)).toBeGreaterThanOrEqual(1 / 3);
  });

  test.each(CHORUS_LEVELS)('level %i: no ending is that of more than 40 of 100 phrases', (level) => {
    const lasts = phrasesIn(at(level)).map((phrase) => (phrase.at(-1) as ChorusNote).durationTicks);
    for (const length of new Set(lasts)) expect(share(lasts, (each) => each === length)).toBeLessThanOrEqual(0.4);
  });

  test('never three phrases running begin on one beat', () => {
    for (const { notes } of made) {
      const beats = phrasesOf(notes).map((phrase) => Math.floor(eighthOf(phrase[0] as ChorusNote) / 2));
      for (let index = 2; index < beats.length; index++) {
        expect(new Set(beats.slice(index - 2, index + 1)).size, `phrase ${index + 1}`).toBeGreaterThan(1);
      }
    }
  });

  test('quarters at 1 and 2, triplet turns from 2 on, sixteenths at 4 only', () => {
    const lengths = (level: ChorusLevel): number[] =>
      at(level).flatMap(({ notes }) => notes.map((each) => each.durationTicks));
    expect(share(lengths(1), (each) => each === 960)).toBeGreaterThan(0.15);
    expect(share(lengths(2), (each) => each === 960)).toBeGreaterThan(0.1);
    for (const level of [2, 3, 4] as const) expect(share(lengths(level), (each) => each === 320)).toBeGreaterThan(0.03);
    for (const level of [1, 2, 3] as const) expect(share(lengths(level), (each) => each === 240)).toBe(0);
    expect(share(lengths(4), (each) => each === 240)).toBeGreaterThan(0.08);
  });

  test('every chorus changes octave at least once and spans more than a hand', () => {
    const spans: number[] = [];
    for (const { notes } of made) {
      const keys = notes.map(({ pitch }) => midiOf(pitch));
      spans.push(Math.max(...keys) - Math.min(...keys));
      expect(new Set(notes.map(({ octaves }) => octaves)).size).toBeGreaterThan(1);
    }
    expect(spans.toSorted((a, b) => a - b)[Math.floor(spans.length / 2)]).toBeGreaterThanOrEqual(22);
  });

  test('levels 3 and 4: 12 of 100 motions or more are half steps; levels 1 and 2 have no neighbours', () => {
    for (const level of [3, 4] as const) {
      const moves = sungIn(at(level)).flatMap(movesOf);
      expect(share(moves, (each) => Math.abs(each) === 1)).toBeGreaterThanOrEqual(0.12);
    }
    for (const { notes } of at(1, 2)) expect(notes.every(({ neighbour }) => neighbour === null)).toBe(true);
  });

  test('at most three motives a chorus; each comes back within eight bars of its first time', () => {
    for (const { notes } of made) {
      const statements = new Map<number, ChorusNote[]>();
      for (const note of notes) {
        if (note.motive === null) continue;
        statements.set(note.motive.statement, [...(statements.get(note.motive.statement) ?? []), note]);
      }
      const all = [...statements.values()].map(([first]) => first as ChorusNote);
      const numbers = new Set(all.map(({ motive }) => motive?.number));
      expect(numbers.size).toBeLessThanOrEqual(3);
      for (const number of numbers) {
        const [first, second] = all.filter(({ motive }) => motive?.number === number);
        expect(second?.startTicks, `motive ${number}`).toBeDefined();
        expect((second as ChorusNote).startTicks - (first as ChorusNote).startTicks).toBeLessThanOrEqual(8 * 3840);
      }
    }
  });

  test('four intervals in a row come back note for note in 7 of 100 places at most', () => {
    let [places, again] = [0, 0];
    for (const each of made) {
      const heard = new Set<string>();
      for (const phrase of sungIn([each])) {
        const moves = movesOf(phrase);
        for (let index = 0; index + 4 <= moves.length; index++) {
          const four = moves.slice(index, index + 4).join();
          places++;
          if (heard.has(four)) again++;
          heard.add(four);
        }
      }
    }
    expect(again / places).toBeLessThanOrEqual(0.07);
  });

  test('where roots go up a fourth, 48 of 100 changes or more are joined by step or a common tone', () => {
    let [changes, joined] = [0, 0];
    for (const { plan, notes } of made) {
      for (const phrase of phrasesOf(notes)) {
        for (const [index, note] of phrase.slice(1).entries()) {
          const before = phrase[index] as ChorusNote;
          const [from, to] = [before, note].map(({ slotIndex }) => plan.slots[slotIndex]?.analysed.chord?.root);
          if (from === undefined || to === undefined || note.slotIndex === before.slotIndex || to - from !== -1)
            continue;
          changes++;
          if (Math.abs(midiOf(note.pitch) - midiOf(before.pitch)) <= 2) joined++;
        }
      }
    }
    expect(changes).toBeGreaterThan(100);
    expect(joined / changes).toBeGreaterThanOrEqual(0.48);
  });
});
