/**
 * The demonstration chorus, by its rules and against real solos. Sources: common practice, as the job's description words it
 * (only the route's positions, an anticipation belongs to the coming chord, phrases end on chord tones, avoid notes go by step to
 * a chord tone, or home from outside into the coming chord's guide tone, or are held until the chord changes and takes them
 * in). Weimar data package (reference section 5; C): intervals inside phrases, notes a phrase and a bar, directions, chord-tone
 * shares. Five fingers hold few half steps and no chromatic line, so what real solos have is a limit to one side only. The
 * chord's tones are read here from the symbol's text.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  formatKey,
  formatNoteName,
  guideTonesOf,
  noteAbove,
  pitchClassOf,
  readChart,
  reportChorus,
  usualKeys,
  type Chart,
  type ChorusReport,
  type Key,
} from '@fivespan/core';
import { chorusIn } from '../lines.ts';

type Note = ChorusReport['notes'][number];
const LEVELS = [1, 2, 3, 4] as const;
type Level = (typeof LEVELS)[number];

const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
function soundOf(name: string): number {
  const accidentals = Array.from(name.slice(1)).reduce((sum, sign) => sum + (sign === '#' ? 1 : -1), 0);
  return ((SEMITONES[name[0] as string] as number) + accidentals + 24) % 12;
}

/** Root, third, fifth, sixth or seventh of the symbols used here, in semitones. Common practice. */
const CHORD_TONES: Readonly<Record<string, readonly number[]>> = {
  '': [0, 4, 7],
  '6': [0, 4, 7, 9],
  m6: [0, 3, 7, 9],
  '7': [0, 4, 7, 10],
  maj7: [0, 4, 7, 11],
  m7: [0, 3, 7, 10],
  'm(maj7)': [0, 3, 7, 11],
  m7b5: [0, 3, 6, 10],
  dim7: [0, 3, 6, 9],
  '7alt': [0, 4, 10],
  '7(b9)': [0, 4, 7, 10],
  '+7': [0, 4, 8, 10],
  '7sus': [0, 5, 7, 10],
};

function chordTones(symbol: string): Set<number> {
  const [, root = '', kind = ''] = /^([A-G][b#]*)([^/]*)/u.exec(symbol) ?? [];
  const tones = CHORD_TONES[kind];
  if (tones === undefined) throw new RangeError(`symbol must be one of the chart's: ${symbol}`);
  return new Set(tones.map((each) => (soundOf(root) + each) % 12));
}

interface Line {
  readonly lesson: ReturnType<typeof chorusIn>;
  readonly notes: readonly Note[];
  readonly phrases: readonly (readonly Note[])[];
}

/** Phrases: parted by a quarter of silence. */
function phrasesIn(notes: readonly Note[]): Note[][] {
  const phrases: Note[][] = [];
  let end = Number.NEGATIVE_INFINITY;
  for (const note of notes) {
    if (note.startTicks - end >= 960) phrases.push([]);
    phrases.at(-1)?.push(note);
    end = note.startTicks + note.durationTicks;
  }
  return phrases;
}

function lineOf(chart: Chart, level: Level, seed: number, key: Key | null = null): Line {
  const lesson = chorusIn(chart, level, seed, key);
  const { notes } = reportChorus(lesson);
  return { lesson, notes, phrases: phrasesIn(notes) };
}

/** Which slot a note belongs to: the one that sounds, or the next if it is its last off-beat eighth and says so. */
function slotOf({ lesson, notes }: Line, index: number): number {
  const note = notes[index] as Note;
  const { slots } = lesson.analysis.form;
  const here = slots.findIndex((slot) => slot.startTicks <= note.startTicks && note.startTicks < slot.endTicks);
  return lesson.chorus[index]?.slotIndex === here + 1 ? here + 1 : here;
}

/** Whether a note is a guide tone of its slot's chord, and another slot's than the note before it. */
function entersOnGuideTone(line: Line, index: number): boolean {
  const [note, slotIndex] = [line.notes[index] as Note, slotOf(line, index)];
  const chord = line.lesson.plan.slots[slotIndex]?.analysed.chord ?? null;
  if (chord === null || slotIndex === slotOf(line, index - 1)) return false;
  return guideTonesOf(chord).some((each) => pitchClassOf(noteAbove(chord.root, each)) === note.midi % 12);
}

/** What a line does against the rules; empty where it keeps them. */
function faultsOf(line: Line): string[] {
  const { lesson, notes } = line;
  const { slots } = lesson.plan;
  const faults: string[] = [];
  for (const [index, note] of notes.entries()) {
    const say = (what: string): void => void faults.push(`bar ${note.bar}, ${note.name}: ${what}`);
    const slotIndex = slotOf(line, index);
    const slot = slots[slotIndex];
    const played = slot?.analysed.played;
    if (slot === undefined || played === undefined) {
      say('belongs to no slot');
      continue;
    }
    if (note.startTicks < played.startTicks) {
      const { bar, startTicks } = lesson.analysis.form.slots[slotIndex - 1]!.playedBar;
      const compound = bar.meter.unit === 8 && bar.meter.count % 3 === 0 && bar.meter.count > 3;
      const beat = compound ? 1440 : 3840 / bar.meter.unit;
      if (played.startTicks - note.startTicks !== 480) say('anticipates by more than an eighth');
      if ((note.startTicks - startTicks) % beat === 0) say('anticipates on a beat');
    }
    const { position, thumbMidi, chordScale } = slot;
    if (position === null || thumbMidi === null || chordScale === null) {
      say('is played where the hand rests');
      continue;
    }
    const names = position.notes.map(formatNoteName);
    const hand = position.shape.steps.map((step) => thumbMidi + 12 * note.octaves + step);
    if (note.neighbour !== null) {
      const lower = hand.findLastIndex((key) => key < note.midi);
      const leads = Math.abs((notes[index + 1]?.midi ?? 0) - note.midi) === 1;
      if (hand.includes(note.midi) || lower < 0 || lower > 3) say('is a neighbour and not between two fingers');
      if (note.finger !== lower + 1 && note.finger !== lower + 2)
        say('is a neighbour under a finger that is not beside it');
      if (!leads) say('is a neighbour and does not lead by half step');
      if (soundOf(note.name) !== note.midi % 12) say('is spelled as another key');
    } else {
      if (names[note.finger - 1] !== note.name) say('is not under its finger');
      if (note.midi !== hand[note.finger - 1]!) say('is another key than its finger’s');
    }
    if (note.thumb !== names[0] || note.shape !== position.shape.name) say('names another position than the route');
    const next = notes[index + 1];
    const end = note.startTicks + note.durationTicks;
    if (next !== undefined && next.startTicks < end) say('overlaps the next');
    const tones = chordTones(played.slot.chord.symbol);
    const isTone = tones.has(note.midi % 12);
    const following = slots[slotIndex + 1]?.analysed.played;
    const isTakenIn =
      following !== undefined &&
      following.slot.chord.symbol !== 'N.C.' &&
      end > played.endTicks &&
      chordTones(following.slot.chord.symbol).has(note.midi % 12);
    const endsPhrase = next === undefined || next.startTicks - end >= 960;
    if (endsPhrase && !isTone && !isTakenIn) say('ends a phrase and is no chord tone');
    const isAvoid = chordScale.avoid.some((each) => soundOf(formatNoteName(each.note)) === note.midi % 12);
    if (!isAvoid || isTakenIn || note.neighbour !== null) continue;
    const step = next === undefined ? 0 : Math.abs(next.midi - note.midi);
    if (next === undefined || next.startTicks > end || step < 1 || step > 2) say('is an avoid note and goes nowhere');
    // what leaves outside goes home by step, into a guide tone of the coming chord
    else if (!chordScale.inside && entersOnGuideTone(line, index + 1)) continue;
    else if (!tones.has(next.midi % 12)) say('is an avoid note and goes to no chord tone');
    else if (lesson.analysis.form.slots[slotOf(line, index + 1)]?.slot.chord.symbol !== played.slot.chord.symbol)
      say('is an avoid note and waits for another chord');
  }
  return faults;
}

function exampleChart(name: string): Chart {
  const chart = readChart(readFileSync(join(import.meta.dirname, '../..', 'examples', `${name}.chart`), 'utf8'));
  if (!chart.ok) throw new TypeError(`${name}: ${JSON.stringify(chart.issues)}`);
  return chart.value;
}

function chartOf(text: string): Chart {
  const chart = readChart(`key: Eb major\n${text}\n`);
  if (!chart.ok) throw new TypeError(`${text}: ${JSON.stringify(chart.issues)}`);
  return chart.value;
}

describe('the rules (common practice)', () => {
  test.each([
    ['in four', 'A:\n| Fm7 | Bb7 | Ebmaj7 | C7(b9) | Fm7 Bb7 | Eb6 | Am7b5 D7alt | Gm6 |'],
    ['a waltz', 'meter: 3/4\nA:\n| Fm7 | Bb7 | Ebmaj7 | C7(b9) | Fm7 Bb7 Ebmaj7 | Eb6 |'],
    ['in six', 'meter: 6/8\nA:\n| Fm7 | Bb7 | Ebmaj7 Cm7 | F7 Bb7 | Ebmaj7 | Eb6 |'],
    ['in five', 'meter: 5/4\nA:\n| Fm7 | Bb7 | Fm7 / / Bb7 / | Ebmaj7 | Ebmaj7 |'],
    [
      'with N.C. and a pickup',
      'pickup: 1\nA:\n| Bb7 |\nB:\n|: Ebmaj7 | Cm7 | N.C. | Bb7 :|\nC:\n| Fm7 | Bb7 | Eb6 | % |',
    ],
    [
      'with one-beat, slash and pushed chords',
      'A:\n| Eb/G Fm7 Gm7 Abmaj7 | Bb7/Ab | Ebmaj7 /&Cm7 / / | Fm7 Bb7sus | Eb6 |',
    ],
  ])('%s, in twelve keys, at every level', (_, text) => {
    const chart = chartOf(text);
    for (const [seed, key] of usualKeys('major').entries()) {
      for (const level of LEVELS) {
        expect(faultsOf(lineOf(chart, level, seed, key)), `${formatKey(key)}, level ${level}`).toEqual([]);
      }
    }
  });

  test('a note moved by a semitone, a finger, a beat or a thumb is found', () => {
    const line = lineOf(exampleChart('DEMO'), 2, 1);
    expect(faultsOf(line)).toEqual([]);
    for (const [index, note] of line.notes.entries()) {
      const changed = (change: Partial<Note>): Line => ({
        ...line,
        notes: line.notes.map((each, at) => (at === index ? { ...note, ...change } : each)),
      });
      expect(faultsOf(changed({ midi: note.midi + 1 })).length).toBeGreaterThan(0);
      expect(faultsOf(changed({ finger: (note.finger % 5) + 1 })).length).toBeGreaterThan(0);
      expect(faultsOf(changed({ thumb: 'Q' })).length).toBeGreaterThan(0);
      if (index + 1 < line.notes.length) {
        expect(faultsOf(changed({ durationTicks: note.durationTicks + 9600 })).length).toBeGreaterThan(0);
      }
    }
  });
});

describe('beside real solos (Weimar data package; C)', () => {
  // in four, so that bars compare
  const charts = ['DEMO', 'copper-wheel', 'harbour-blues', 'winter-platform'].map(exampleChart);
  const SEEDS = Array.from({ length: 6 }, (_, seed) => seed + 1);
  const lines = new Map<Level, Line[]>();
  beforeAll(() => {
    for (const level of LEVELS) {
      lines.set(
        level,
        charts.flatMap((chart) => SEEDS.map((seed) => lineOf(chart, level, seed))),
      );
    }
  }, 120_000);
  const at = (level: Level): Line[] => lines.get(level) as Line[];
  const quantile = (values: readonly number[], share: number): number =>
    values.toSorted((a, b) => a - b)[Math.floor(share * (values.length - 1))] as number;
  const notesABar = ({ lesson, notes }: Line): number => notes.length / lesson.analysis.form.bars.length;
  const motionsOf = (level: Level): number[] =>
    at(level).flatMap(({ phrases }) =>
      phrases.flatMap((phrase) => phrase.slice(1).map((note, index) => note.midi - (phrase[index] as Note).midi)),
    );
  const share = (values: readonly number[], holds: (value: number) => boolean): number =>
    values.filter(holds).length / values.length;

  test.each(LEVELS)('level %i: phrases have 4 to 38 notes (C: p10 and p90)', (level) => {
    const counts = at(level).flatMap(({ phrases }) => phrases.map((phrase) => phrase.length));
    expect(Math.min(...counts)).toBeGreaterThanOrEqual(4);
    expect(Math.max(...counts)).toBeLessThanOrEqual(38);
  });

  test('levels 2 and 3: the median phrase is near 13 notes (C); the plainest is the shortest, the freest the longest', () => {
    const medians = LEVELS.map((level) =>
      quantile(
        at(level).flatMap(({ phrases }) => phrases.map((phrase) => phrase.length)),
        0.5,
      ),
    );
    const both = ([2, 3] as const).flatMap((level) =>
      at(level).flatMap(({ phrases }) => phrases.map((phrase) => phrase.length)),
    );
    expect(quantile(both, 0.5)).toBeGreaterThanOrEqual(11);
    expect(quantile(both, 0.5)).toBeLessThanOrEqual(16);
    expect(medians[1]).toBeGreaterThan(medians[0] as number);
    expect(medians[3]).toBeGreaterThan(medians[1] as number);
  });

  test.each([2, 3] as const)('level %i: 4.2 to 10.7 notes a bar (C: p10 and p90), in nine choruses of ten', (level) => {
    const perBar = at(level).map(notesABar);
    expect(share(perBar, (each) => each >= 4.2 && each <= 10.7)).toBeGreaterThanOrEqual(0.9);
  });

  test('the freer, the more notes; levels 2 and 3 differ in colour, not in number; level 1 has no less than three a bar (judgement)', () => {
    const means = LEVELS.map((level) => {
      const perBar = at(level).map(notesABar);
      return perBar.reduce((sum, each) => sum + each, 0) / perBar.length;
    });
    const [first, second, third, fourth] = means as [number, number, number, number];
    expect(first).toBeGreaterThanOrEqual(3);
    expect(Math.min(second, third)).toBeGreaterThan(first + 0.25);
    expect(Math.abs(third - second)).toBeLessThan(0.25);
    expect(fourth).toBeGreaterThan(Math.max(second, third) + 0.25);
  });

  test('an outside chord-scale is left by step into a guide tone of the chord that comes inside, nineteen times of twenty (common practice)', () => {
    let [leavings, home] = [0, 0];
    for (const level of [2, 3, 4] as const) {
      for (const { lesson, phrases } of at(level)) {
        const { slots } = lesson.plan;
        for (const phrase of phrases) {
          for (const [index, note] of phrase.slice(1).entries()) {
            const last = phrase[index] as Note;
            const [from, to] = [last, note].map((each) =>
              slots.find(({ analysed }) => analysed.played.slot.id === each.slot),
            );
            if (from?.chordScale?.inside !== false || to?.chordScale?.inside !== true) continue;
            leavings++;
            const motion = Math.abs(note.midi - last.midi);
            const { chord } = to.analysed;
            const guides =
              chord === null ? [] : guideTonesOf(chord).map((each) => pitchClassOf(noteAbove(chord.root, each)));
            if (motion >= 1 && motion <= 2 && guides.some((each) => each === note.midi % 12)) home++;
          }
        }
      }
    }
    expect(leavings).toBeGreaterThan(100);
    expect(home / leavings).toBeGreaterThan(0.95);
  });

  test('the freer, the more anticipations (judgement)', () => {
    const shares = LEVELS.map((level) => {
      const all = at(level).flatMap((line) =>
        line.notes.map((note, index) => {
          const slot = line.lesson.analysis.form.slots[slotOf(line, index)]!;
          return note.startTicks < slot.startTicks ? 1 : 0;
        }),
      );
      return share(all, (each) => each === 1);
    });
    expect(shares[1]).toBeGreaterThan(shares[0] as number);
    expect(shares[2]).toBeGreaterThan(shares[1] as number);
  });

  test.each(LEVELS)('level %i: rises and falls in balance (C: 45.7 up, 49.2 down, 5.1 repeated)', (level) => {
    const motions = motionsOf(level);
    expect(share(motions, (each) => each === 0)).toBeLessThanOrEqual(0.051);
    expect(share(motions, (each) => each > 0)).toBeGreaterThan(0.437);
    expect(share(motions, (each) => each < 0)).toBeGreaterThan(0.437);
  });

  test.each(LEVELS)('level %i: steps first, then thirds, fourths, wider (C: 56.2, 26.5, 6.4, 8.7 of 100)', (level) => {
    const sizes = motionsOf(level).map(Math.abs);
    const steps = share(sizes, (each) => each === 1 || each === 2);
    const thirds = share(sizes, (each) => each === 3 || each === 4);
    const fourths = share(sizes, (each) => each === 5);
    const wider = share(sizes, (each) => each > 5);
    // five fingers have a third where a scale has two steps: more of them, and still most motions are steps
    expect(steps).toBeGreaterThan(0.5);
    expect(steps).toBeGreaterThan(thirds);
    expect(thirds).toBeGreaterThanOrEqual(0.265);
    expect(thirds).toBeGreaterThan(fourths);
    expect(wider).toBeLessThanOrEqual(0.087);
  });

  test.each(LEVELS)(
    'level %i: every chorus has .43 chord tones or more (C: p10), every phrase ends on one',
    (level) => {
      for (const line of at(level)) {
        const tone = (index: number): boolean => {
          const slot = line.lesson.analysis.form.slots[slotOf(line, index)]!;
          return chordTones(slot.slot.chord.symbol).has((line.notes[index] as Note).midi % 12);
        };
        const tones = line.notes.map((_, index) => tone(index));
        expect(tones.filter(Boolean).length / tones.length).toBeGreaterThanOrEqual(0.43);
        let last = -1;
        for (const phrase of line.phrases) {
          last += phrase.length;
          const slotIndex = slotOf(line, last);
          const note = line.notes[last] as Note;
          const next = line.lesson.analysis.form.slots[slotIndex + 1];
          const heldInto = next !== undefined && note.startTicks + note.durationTicks > next.startTicks;
          expect(tone(last) || heldInto).toBe(true);
        }
      }
    },
  );

  test.each(LEVELS)('level %i: all five fingers play, none less than one note in twenty (judgement)', (level) => {
    const fingers = at(level).flatMap(({ notes }) => notes.map((note) => note.finger));
    for (const finger of [1, 2, 3, 4, 5]) expect(share(fingers, (each) => each === finger)).toBeGreaterThan(0.05);
  });

  test.each(LEVELS)(
    'level %i: a new chord is mostly entered by step, and far oftener on a guide tone than by chance (judgement)',
    (level) => {
      let changes = 0;
      let bySteps = 0;
      let guides = 0;
      let byChance = 0;
      for (const line of at(level)) {
        for (const phrase of line.phrases) {
          for (const [place, note] of phrase.entries()) {
            if (place === 0) continue;
            const index = line.notes.indexOf(note);
            const [from, to] = [slotOf(line, index - 1), slotOf(line, index)];
            const { slots } = line.lesson.plan;
            const symbol = slots[to]!.analysed.played.slot.chord.symbol;
            if (symbol === slots[from]!.analysed.played.slot.chord.symbol) continue;
            changes++;
            if (Math.abs(note.midi - (phrase[place - 1] as Note).midi) <= 2) bySteps++;
            const root = soundOf(/^[A-G][b#]*/u.exec(symbol)![0]);
            // third and seventh (or sixth): every chord tone but root and fifth. Common practice
            const isGuide = (sound: number): boolean =>
              chordTones(symbol).has(sound) && ![0, 6, 7, 8].includes((sound - root + 12) % 12);
            if (isGuide(note.midi % 12)) guides++;
            byChance += slots[to]!.position!.notes.filter((each) => isGuide(soundOf(formatNoteName(each)))).length / 5;
          }
        }
      }
      expect(changes).toBeGreaterThan(100);
      expect(bySteps / changes).toBeGreaterThan(0.5);
      expect(guides / byChance).toBeGreaterThan(1.6);
    },
  );

  test.each(LEVELS)('level %i: most phrases take up a motive heard before (judgement)', (level) => {
    let [returning, phrases] = [0, 0];
    for (const line of at(level)) {
      const heard = new Set<number>();
      for (const phrase of line.phrases) {
        const numbers = new Set(phrase.flatMap(({ motive }) => (motive === null ? [] : [motive.number])));
        if ([...numbers].some((number) => heard.has(number))) returning++;
        for (const number of numbers) heard.add(number);
        phrases++;
      }
    }
    expect(returning / phrases).toBeGreaterThan(0.5);
  });

  // by chance one move in five or six would agree: five fingers, and no finger twice
  test.each(LEVELS)('level %i: a motive that comes back keeps six of ten finger moves or more (judgement)', (level) => {
    let [kept, moves] = [0, 0];
    for (const { notes } of at(level)) {
      const statements = new Map<number, Note[]>();
      for (const note of notes) {
        if (note.motive === null) continue;
        statements.set(note.motive.statement, [...(statements.get(note.motive.statement) ?? []), note]);
      }
      const first = new Map<number, number[]>();
      for (const statement of statements.values()) {
        const fingers = statement.slice(1).map((note, index) => note.finger - (statement[index] as Note).finger);
        const { number, form } = (statement[0] as Note).motive as NonNullable<Note['motive']>;
        if (form === 'new') first.set(number, fingers);
        if (form !== 'again' && form !== 'turned over') continue;
        for (const [index, move] of (first.get(number) ?? []).entries()) {
          const own = fingers[index];
          if (own === undefined) continue;
          moves++;
          if (own === (form === 'again' ? move : -move)) kept++;
        }
      }
    }
    expect(moves).toBeGreaterThan(50);
    expect(kept / moves).toBeGreaterThanOrEqual(0.6);
  });

  test.each(LEVELS)('level %i: a fifth of the bars or more breathe (judgement)', (level) => {
    for (const { lesson, notes } of at(level)) {
      const bars = lesson.analysis.form.bars;
      const breathing = bars.filter(({ startTicks, bar }) =>
        Array.from({ length: bar.durationTicks / 480 }, (_, cell) => startTicks + cell * 480).some(
          (tick) => !notes.some((note) => note.startTicks < tick + 960 && note.startTicks + note.durationTicks > tick),
        ),
      );
      expect(breathing.length / bars.length).toBeGreaterThan(0.2);
    }
  });
});
