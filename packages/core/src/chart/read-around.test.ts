import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { barsOf, type Bar } from './chart.ts';
import { unfold } from './form/unfold.ts';
import { inventedChart } from './invented-chart.ts';
import { readAround } from './read-around.ts';
import { readChart } from './read-chart.ts';

const barsRead = (text: string): Bar[] => {
  const { chart } = readAround(text);
  if (chart === null) throw new Error(`nothing read of ${text}`);
  return barsOf(chart);
};
const symbols = (bar: Bar | undefined): string[] =>
  (bar?.slots ?? []).map(({ startTicks, durationTicks, chord }) => `${startTicks}+${durationTicks} ${chord.symbol}`);

describe('a chart that is being written', () => {
  test('a wrong symbol stands as N.C. for its length, all else as it is', () => {
    const bars = barsRead('| Fm7 Bbx7 | Ebmaj7 | D7 / Gm / |');
    expect(symbols(bars[0])).toEqual(['0+1920 Fm7', '1920+1920 N.C.']);
    expect(symbols(bars[1])).toEqual(['0+3840 Ebmaj7']);
    expect(bars.map((bar) => bar.id)).toEqual(['b1', 'b2', 'b3']);
    expect(bars[0]?.slots.map((slot) => slot.id)).toEqual(['b1.1', 'b1.2']);
  });

  test.each([
    // as the example of the message has them: Bb7 / Ebmaj7 C7
    ['| Bb7 Ebmaj7 C7 |', ['0+1920 Bb7', '1920+960 Ebmaj7', '2880+960 C7']],
    ['| C D E F G |', ['0+960 C', '960+960 D', '1920+960 E', '2880+960 F']],
    ['| C / D |', ['0+1920 C', '1920+1920 D']],
    ['| C / D / E |', ['0+1920 C', '1920+1920 D']],
    ['| / D / / |', ['0+960 N.C.', '960+2880 D']],
    ['| C | % D |', ['0+3840 C']],
    ['| % |', ['0+3840 N.C.']],
    ['| C&&D / / / |', ['0+3840 N.C.']],
  ])('%s fills its bar', (text, slots) => {
    expect(symbols(barsRead(text)[0])).toEqual(slots);
  });

  test.each([
    ['| A | B :| C :| D |', [1, 2, 1, 2, 3, 4]], // the second :| has nothing to go back to
    ['|: A | B :| |: C | D |', [1, 2, 1, 2, 3, 4]],
    ['|: A |: B :| C :| D |', [1, 2, 1, 2, 3, 4]],
    ['|: A :| B |1. C :|3. D || |: E |1. F :|2. G || B', [1, 1, 2, 3, 4, 5, 6, 5, 7, 8]],
    ['|: A |1. B :|2. C :|x7', [1, 2, 1, 3]],
    ['| A | B :|x99', [1, 2, 1, 2]],
    ['| A | B D.S. al coda | C', [1, 2, 3]],
    ['| A fine | B fine | C D.C. al fine', [1, 2, 3, 1]],
  ])('%s plays what fits together', (text, order) => {
    const { chart, issues } = readAround(text);
    expect(issues).not.toEqual([]);
    expect(chart === null ? [] : unfold(chart).bars.map(({ bar }) => bar.number)).toEqual(order);
  });

  test('headings that are not understood are as if they were not there', () => {
    const { chart, issues } = readAround(
      'title: Dusk\nkey: Q\nmeter: 5/7\ntempo: fast\nfeel: even\npickup: 9\n| C | D |',
    );
    expect(chart).toMatchObject({
      title: 'Dusk',
      key: null,
      tempoBpm: null,
      feel: 'even',
      meter: { count: 4, unit: 4 },
    });
    expect(issues.map((issue) => issue.place.line)).toEqual([2, 3, 4, 6]);
  });

  test('nothing to read is no chart', () => {
    for (const text of ['', '\n\n', 'title: Dusk\n', '# note', 'A:']) expect(readAround(text).chart).toBeNull();
  });
});

describe('laws of reading around faults', () => {
  const words = fc.constantFrom(
    ...'| |: :| || |] :|x3 :|x99 :|: % / & Fm7 Bb7 Dmx7 C/E N.C. 1. 2. 1.2. 3. 4. 9. 3/4 6/8 5/7 segno coda to fine D.C.'
      .concat(
        ' D.S. al 𝄋 A: key:_F meter:_3/4 title:_x pickup:_1 pickup:_8 tempo:_90 # : Fm7&Bb7 /&C7 ( ) x feel:_swing',
      )
      .concat(' to_coda D.S._al_coda D.C._al_fine \n \n')
      .split(' ')
      .map((word) => word.replaceAll('_', ' ')),
  );
  const anyText = fc.array(words, { maxLength: 40 }).map((each) => each.join(' '));

  test('the same as readChart wherever that reads; the same issues wherever it does not', () => {
    let wrong = 0;
    fc.assert(
      fc.property(
        fc.oneof(
          anyText,
          inventedChart.map(({ text }) => text),
        ),
        (text) => {
          const strict = readChart(text);
          const around = readAround(text);
          if (strict.ok) expect(around).toEqual({ chart: strict.value, issues: strict.warnings });
          else {
            wrong++;
            expect(around.issues).toEqual(strict.issues);
          }
        },
      ),
      { seed: 11, numRuns: 1_500 },
    );
    expect(wrong).toBeGreaterThan(300);
  });

  test('any text: bars are full, ids in order, and it unfolds; no exception', () => {
    let faultyCharts = 0;
    fc.assert(
      fc.property(fc.oneof(anyText, fc.string({ maxLength: 80 })), (text) => {
        const { chart, issues } = readAround(text);
        if (chart === null) {
          expect(issues.length).toBeGreaterThan(0);
          return;
        }
        if (issues.length > 0) faultyCharts++;
        const bars = barsOf(chart);
        expect(bars.map((bar) => bar.id)).toEqual(bars.map((_, index) => `b${index + 1}`));
        for (const bar of bars) {
          let at = 0;
          for (const slot of bar.slots) {
            expect(slot.startTicks).toBe(at);
            expect(slot.durationTicks).toBeGreaterThan(0);
            at += slot.durationTicks;
          }
          expect(at).toBe(bar.durationTicks);
        }
        expect(unfold(chart).bars.length).toBeGreaterThan(0);
      }),
      { seed: 12, numRuns: 1_500 },
    );
    expect(faultyCharts).toBeGreaterThanOrEqual(500);
  });

  test('one broken symbol leaves every bar as it is but its own, and those that go on with it', () => {
    let broken = 0;
    fc.assert(
      fc.property(inventedChart, fc.nat(), (invented, pick) => {
        const places = [...invented.text.matchAll(/(?<=[\s|&])[A-G][^\s|&]*/gu)].filter(([word]) => word !== 'D.C.');
        const place = places[pick % places.length];
        if (place === undefined) return;
        const text = `${invented.text.slice(0, place.index)}Hx${invented.text.slice(place.index + place[0].length)}`;
        const right = barsRead(invented.text);
        const around = readAround(text);
        const [issue, ...more] = around.issues;
        expect(more).toEqual([]);
        expect(issue?.code).toBe('chord.root');
        const bars = around.chart === null ? [] : barsOf(around.chart);
        expect(bars).toHaveLength(right.length);
        let goesOn = false;
        for (const [index, bar] of bars.entries()) {
          if (bar.number === issue?.place.bar) {
            expect({ ...bar, slots: [] }).toEqual({ ...right[index], slots: [] });
            expect(bar.slots.map((slot) => slot.id)).toEqual(right[index]?.slots.map((slot) => slot.id));
            goesOn = true;
            broken++;
          } else if (goesOn && bar.slots[0]?.chord.symbol === 'N.C.') {
            goesOn = bar.slots.length === 1;
          } else {
            goesOn = false;
            expect(bar).toEqual(right[index]);
          }
        }
      }),
      { seed: 13, numRuns: 600 },
    );
    expect(broken).toBeGreaterThan(400);
  });
});

/** How often reading a text asks whether something is in a set: it does so bar by bar wherever it walks over them. */
function stepsOf(text: string): number {
  // oxlint-disable-next-line typescript/unbound-method -- called with its set below
  const { has } = Set.prototype;
  let steps = 0;
  // oxlint-disable-next-line no-extend-native -- counted for the length of one reading
  Set.prototype.has = function counted(this: Set<unknown>, value) {
    steps++;
    return has.call(this, value);
  };
  try {
    readAround(text);
  } finally {
    // oxlint-disable-next-line no-extend-native
    Set.prototype.has = has;
  }
  return steps;
}

test.each([
  ['endings that begin again and again', '1. Fm7 | '],
  ['repeats in repeats, each with an ending', '|: 1. Fm7 '],
])('steps grow with the bars, not with their square: %s', (_, bar) => {
  const [few, many] = [stepsOf(bar.repeat(500)), stepsOf(bar.repeat(4_000))];
  expect(few).toBeGreaterThanOrEqual(500);
  // eight times the bars: eight times the steps, and a little; squared it would be 64 times
  expect(many / few).toBeLessThan(10);
});
