import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS } from '../../analysis/index.ts';
import { transposeChart } from '../../chart/index.ts';
import {
  degree,
  degreeAbove,
  formatNoteName,
  pitchClassOf,
  semitonesOf,
  stepOf,
  usualKeys,
  type Chord,
  type Midi,
  type NoteName,
} from '../../theory/index.ts';
import { analysisOf, anyChartText, inventedChart } from '../invented-plan.ts';
import {
  HIGHEST_VOICING,
  leadVoicings,
  LOWEST_VOICING,
  voicingForms,
  type Voicing,
  type VoicingStyle,
} from './index.ts';
import { standingCost, voiceMotion } from './lead-voicings.ts';

const RUNS = { seed: 20_261_125, numRuns: 60 };

const written = (text: string, slot: number, style: VoicingStyle = 'rootless'): string[] => {
  const analysed = analysisOf(text).slots[slot];
  if (analysed === undefined) throw new RangeError('slot must be in the chart');
  return voicingForms(analysed, style).map(({ name, notes }) => `${name}: ${notes.map(formatNoteName).join(' ')}`);
};

describe('voicingForms', () => {
  // common practice: the two rootless forms of a ii–V–I, and of a minor one
  it.each([
    ['Dm7', 0, ['A: F A C E', 'B: C E F A']],
    ['G7', 1, ['A: B E F A', 'B: F A B E']],
    ['Cmaj7', 2, ['A: E G B D', 'B: B D E G']],
  ])('voices %s of Dm7 G7 Cmaj7', (_, slot, forms) => {
    expect(written('key: C\nA:\n| Dm7 | G7 | Cmaj7 | % |\n', slot)).toEqual(forms);
  });

  it.each([
    ['Bb7(b9)', 'B: Ab Cb D'],
    ['G7alt', 'B: F Bb B Eb'],
    ['C7(#11)', 'A: E F# Bb'],
    ['F13', 'A: A D Eb G'],
    ['Ab+7', 'A: C E Gb'],
  ])('%s keeps what is written: %s…', (symbol, start) => {
    expect(written(`A:\n| ${symbol} | % |\n`, 0).some((form) => form.startsWith(start))).toBe(true);
  });

  it('has a written #11 beside a 13 in one hand, in place of the plain 9; an altered 9 stays', () => {
    expect(written('A:\n| C13(#11) | % |\n', 0)).toEqual(['A: E F# A Bb', 'B: Bb E F# A']);
    expect(written('A:\n| C7(b9,#11) | % |\n', 0)).toEqual(['A: E F# Bb Db', 'B: Bb Db E F#']);
    // five fingers hold all that is written
    expect(written('A:\n| C13(b9,#11) | % |\n', 0)).toEqual(['A: E F# A Bb Db', 'B: Bb Db E F# A']);
    expect(written('A:\n| C13(#9,#11) | % |\n', 0)).toEqual(['A: E F# A Bb D#', 'B: Bb D# E F# A']);
  });

  it('gives the root and a guide tone for a shell', () => {
    expect(written('A:\n| Dm7 | G7 |\n', 0, 'shells')).toEqual(['shell seventh: D C', 'shell third: D F']);
  });
});

/** Whether a note stands where the chord writes another alteration of the same degree. */
function clashes(chord: Chord, note: NoteName): boolean {
  const above = degreeAbove(chord.root, note);
  // by sound: over G7alt the ♯9 is written B♭
  const named =
    chord.degrees.find((each) => semitonesOf(each) === semitonesOf(above)) ??
    (above === degree('#1') ? degree('b9') : above);
  const there = chord.degrees.filter((each) => stepOf(each) === stepOf(named));
  return there.length > 0 && !there.includes(named);
}

describe('leadVoicings', () => {
  it('never clashes with what is written, stays in its register, ascends, and holds the guide tones: any chords, any metre', () => {
    fc.assert(
      fc.property(anyChartText, (text) => {
        const analysis = analysisOf(text);
        for (const [index, voicing] of leadVoicings(analysis, 'rootless').entries()) {
          const { chord } = analysis.slots[index]!;
          if (chord === null) {
            expect(voicing).toBeUndefined();
            continue;
          }
          expect(voicing).toBeDefined();
          const { keys, pitches } = voicing as Voicing;
          expect(keys.length).toBeGreaterThanOrEqual(2);
          expect([...keys]).toEqual([...new Set(keys)].toSorted((a, b) => a - b));
          expect(keys[0]!).toBeGreaterThanOrEqual(LOWEST_VOICING);
          expect(keys.at(-1)!).toBeLessThanOrEqual(HIGHEST_VOICING);
          for (const { name } of pitches)
            expect(clashes(chord, name), `${chord.symbol} ${formatNoteName(name)}`).toBe(false);
        }
      }),
      RUNS,
    );
  });

  it('is the cheapest of all ways, as trying every one of them shows', () => {
    const analysis = analysisOf('A:\n| Dm7 D7 | Em7 A7alt |\n| Fmaj7 | C6 Ebm7 | Ab7 Dbm7 | Eb7 |\n');
    const keysIn = (name: NoteName): number[] =>
      Array.from({ length: 128 }, (_, key) => key).filter((key) => key % 12 === pitchClassOf(name));
    // every stack of every form in the register, found by trying all keys for each note
    const ways = analysis.slots.map((slot) =>
      voicingForms(slot, 'rootless').flatMap(({ notes }) =>
        keysIn(notes[0]!)
          .map((first) =>
            notes.slice(1).reduce((keys, note) => [...keys, keysIn(note).find((key) => key > keys.at(-1)!)!], [first]),
          )
          // two ledger lines over the bass clef at most, where the chord finds a place under them
          .filter((keys) => keys[0]! >= LOWEST_VOICING && keys.at(-1)! <= 65),
      ),
    ) as Midi[][][];
    const costOf = (way: readonly (readonly Midi[])[]): number =>
      way.reduce(
        (sum, keys, index) =>
          sum + standingCost(keys, 'rootless', 1000) + (index === 0 ? 0 : voiceMotion(way[index - 1]!, keys)),
        0,
      );
    const all = ways.reduce<Midi[][][]>(
      (some, next) => some.flatMap((way) => next.map((keys) => [...way, keys])),
      [[]],
    );
    expect(all.length).toBeGreaterThan(60);
    const led = leadVoicings(analysis, 'rootless') as Voicing[];
    expect(costOf(led.map(({ keys }) => keys))).toBe(Math.min(...all.map(costOf)));
  });

  it('alternates A and B through a ii–V–I, with no voice moving further than a whole step (common practice)', () => {
    for (const key of usualKeys('major')) {
      const chart = transposeChart(inventedChart('key: C major\nA:\n| Dm7 | G7 | Cmaj7 | % |\n'), key);
      const led = leadVoicings(analyse(chart, NO_ANALYSIS_PINS), 'rootless').slice(0, 3) as Voicing[];
      expect(['ABA', 'BAB']).toContain(led.map(({ form }) => form).join(''));
      for (const [index, voicing] of led.slice(1).entries()) {
        for (const [voice, at] of voicing.keys.entries()) {
          expect(Math.abs(at - led[index]!.keys[voice]!)).toBeLessThanOrEqual(2);
        }
      }
    }
  });

  it('stacks alike in twelve keys: the sounds of the forms are the same', () => {
    const text = 'key: C major\nA:\n| Dm7b5 | G7alt | Cm6 | C7(b9) | Fm7 | Bb13 | Ebmaj7 | Ab7(#11) |\n';
    const degreesIn = (chart: ReturnType<typeof inventedChart>): string[] =>
      analyse(chart, NO_ANALYSIS_PINS).slots.flatMap((slot) =>
        voicingForms(slot, 'rootless').map(({ name, notes }) =>
          [
            name,
            ...notes.map((note) => (slot.chord === null ? 0 : semitonesOf(degreeAbove(slot.chord.root, note)))),
          ].join(' '),
        ),
      );
    const own = degreesIn(inventedChart(text));
    for (const key of usualKeys('major')) expect(degreesIn(transposeChart(inventedChart(text), key))).toEqual(own);
  });

  it('stays below the right hand where it can', () => {
    const analysis = analysisOf('A:\n| Dm7 | G7 | Cmaj7 | % |\n');
    const led = leadVoicings(analysis, 'rootless', { ceilings: analysis.slots.map(() => 65) }) as Voicing[];
    for (const { keys } of led) expect(keys.at(-1)!).toBeLessThan(65);
  });
});
