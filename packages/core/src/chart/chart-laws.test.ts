import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { barsOf, type Chart } from './chart.ts';
import { unfold } from './form/unfold.ts';
import { inventedChart } from './invented-chart.ts';
import { barTicksOf } from './meter.ts';
import { readChart } from './read-chart.ts';
import { writeChart } from './write-chart.ts';

const read = (text: string): Chart => {
  const chart = readChart(text);
  if (!chart.ok) throw new Error(`${text}\n${JSON.stringify(chart.issues, null, 1)}`);
  return chart.value;
};

describe('laws of charts', () => {
  test('bars are played in the order the form was made from', () => {
    let returned = 0;
    fc.assert(
      fc.property(inventedChart, ({ text, played, barCount }) => {
        const chart = read(text);
        expect(barsOf(chart)).toHaveLength(barCount);
        expect(unfold(chart).bars.map(({ bar }) => bar.number)).toEqual(played);
        if (played.length > barCount) returned++;
      }),
      { seed: 1, numRuns: 800 },
    );
    expect(returned).toBeGreaterThan(200);
  });

  test('slots fill their bars, and a form has no gaps', () => {
    fc.assert(
      fc.property(inventedChart, ({ text }) => {
        const chart = read(text);
        for (const bar of barsOf(chart)) {
          let at = 0;
          for (const slot of bar.slots) {
            expect(slot.startTicks).toBe(at);
            expect(slot.durationTicks).toBeGreaterThan(0);
            at += slot.durationTicks;
          }
          expect(at).toBe(bar.durationTicks);
          expect(bar.durationTicks).toBe(bar.number === 0 ? barTicksOf(bar.meter) / 2 : barTicksOf(bar.meter));
        }
        const form = unfold(chart);
        let at = form.bars[0]?.bar.number === 0 ? -1920 : 0;
        for (const slot of form.slots) {
          expect(slot.startTicks).toBe(at);
          at = slot.endTicks;
        }
        expect(at).toBe(form.endTicks);
        expect(form.slots.map((slot) => slot.index)).toEqual(form.slots.map((_, index) => index));
        const passes = new Map<string, number>();
        for (const { bar, pass } of form.bars) {
          expect(pass).toBe((passes.get(bar.id) ?? 0) + 1);
          passes.set(bar.id, pass);
        }
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  test('what is written reads as the same chart, and is written the same again', () => {
    fc.assert(
      fc.property(inventedChart, ({ text }) => {
        const chart = read(text);
        const written = writeChart(chart);
        expect(readChart(written)).toEqual({ ok: true, value: chart, warnings: [] });
        expect(writeChart(read(written))).toBe(written);
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  test('any text gives a chart or issues with a place, never an exception; what is read unfolds and is written', () => {
    const words = fc.constantFrom(
      ...'| |: :| || |] :|x3 :|: % / & Fm7 Bb7 C/E N.C. 1. 2. 1.2. 3. 4. 9. 3/4 6/8 5/7 segno coda to fine D.C. D.S. al 𝄋'
        .concat(' A: key:_F meter:_3/4 title:_x pickup:_1 tempo:_90 # : Fm7&Bb7 /&C7 ( ) C7(b9,_b13) x feel:_swing')
        .concat(' to_coda D.S._al_coda D.C._al_fine \n \n')
        .split(' ')
        .map((word) => word.replaceAll('_', ' ')),
    );
    const texts = fc.oneof(
      fc.array(words, { maxLength: 30 }).map((each) => each.join(' ')),
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc.string({ maxLength: 60 }),
    );
    let readable = 0;
    fc.assert(
      fc.property(texts, (text) => {
        const chart = readChart(text);
        if (!chart.ok) {
          expect(chart.issues.length).toBeGreaterThan(0);
          const lines = text.split(/\r\n|\n|\r/u);
          for (const { place } of chart.issues) {
            const line = lines[(place.line ?? 0) - 1];
            expect(line, JSON.stringify(chart.issues)).toBeDefined();
            expect(place.column).toBeGreaterThanOrEqual(1);
            expect(place.column).toBeLessThanOrEqual([...(line as string)].length + 1);
          }
          const told = chart.issues.map((issue) => JSON.stringify(issue));
          expect(new Set(told).size, 'none twice').toBe(told.length);
          return;
        }
        readable++;
        expect(unfold(chart.value).bars.length).toBeGreaterThan(0);
        expect(read(writeChart(chart.value))).toEqual(chart.value);
      }),
      { seed: 4, numRuns: 3000 },
    );
    expect(readable).toBeGreaterThan(10);
  });

  test('signs set at random give a fault or a chart that unfolds, ends and reads back', () => {
    const often = (text: string): fc.Arbitrary<string> =>
      fc.oneof(
        { weight: 5, arbitrary: fc.constant('') },
        { weight: 1, arbitrary: fc.constantFrom(...text.split(',')) },
      );
    const signedBar = fc
      .tuple(
        often('|:'),
        often('1.,2.,1.2.,3.'),
        often('segno,coda'),
        fc.constantFrom('C', 'F G'),
        often('fine,to coda,D.C.,D.S.,D.C. al fine,D.S. al coda'),
        often(':|,:|x3,||'),
      )
      .map(([open, ending, mark, chords, after, close]) =>
        [open === '' ? '|' : open, ending, mark, chords, after, close].join(' '),
      );
    let readable = 0;
    fc.assert(
      fc.property(fc.array(signedBar, { minLength: 1, maxLength: 7 }), (bars) => {
        const chart = readChart(bars.join('\n'));
        if (!chart.ok) return;
        readable++;
        const form = unfold(chart.value);
        expect(form.bars[0]?.bar.number).toBe(1);
        expect(form.bars.length).toBeLessThan(100);
        // all that a form without a jump plays is all that is written
        if (!bars.some((each) => each.includes('D.'))) {
          expect(new Set(form.bars.map(({ bar }) => bar.id)).size).toBe(bars.length);
        }
        expect(read(writeChart(chart.value))).toEqual(chart.value);
      }),
      { seed: 5, numRuns: 6000 },
    );
    expect(readable).toBeGreaterThan(500);
  });
});
