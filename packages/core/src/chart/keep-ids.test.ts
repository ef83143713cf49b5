import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { barsOf, type Chart, type SlotId } from './chart.ts';
import { inventedChart } from './invented-chart.ts';
import { keepIds, slotsKept } from './keep-ids.ts';
import { readChart } from './read-chart.ts';

const read = (text: string): Chart => {
  const chart = readChart(text);
  if (!chart.ok) throw new Error(JSON.stringify(chart.issues));
  return chart.value;
};
const ids = (chart: Chart): string =>
  barsOf(chart)
    .map((bar) => bar.id)
    .join(' ');
const slots = (chart: Chart): string =>
  barsOf(chart)
    .flatMap((bar) => bar.slots.map((slot) => slot.id))
    .join(' ');

describe('ids survive edits', () => {
  const before = read('A:\n| C | F G | Am | D |\nB:\n| E | A |');
  test.each([
    ['nothing', 'A:\n| C | F G | Am | D |\nB:\n| E | A |', 'b1 b2 b3 b4 b5 b6'],
    ['a bar put in', 'A:\n| C | Bb | F G | Am | D |\nB:\n| E | A |', 'b1 b7 b2 b3 b4 b5 b6'],
    ['a bar taken out', 'A:\n| C | Am | D |\nB:\n| E | A |', 'b1 b3 b4 b5 b6'],
    ['a chord changed', 'A:\n| C | F7 G | Am | D |\nB:\n| E | A |', 'b1 b2 b3 b4 b5 b6'],
    ['bars put in at both ends', 'A:\n| G7 | C | F G | Am | D |\nB:\n| E | A | G7 |', 'b7 b1 b2 b3 b4 b5 b6 b8'],
    ['a repeat written round it', 'A:\n|: C | F G | Am | D :|\nB:\n| E | A |', 'b1 b2 b3 b4 b5 b6'],
    ['sections changed round', 'B:\n| E | A |\nA:\n| C | F G | Am | D |', 'b7 b8 b1 b2 b3 b4'],
  ])('%s', (_, text, expected) => expect(ids(keepIds(before, read(text)))).toBe(expected));

  test('a slot keeps its id at its place, also with another chord; a new one gets a new id', () => {
    const chart = read('| C F | D |');
    expect(slots(keepIds(chart, read('| C7 F | D |')))).toBe('b1.1 b1.2 b2.1');
    expect(slots(keepIds(chart, read('| C / G F | D |')))).toBe('b1.1 b1.2 b1.3 b2.1');
    expect(slots(keepIds(chart, read('| C G / F | D |')))).toBe('b1.1 b1.3 b1.4 b2.1');
    expect(slots(keepIds(chart, read('| C | D |')))).toBe('b1.1 b2.1');
  });

  test('sections keep theirs by name', () => {
    const edited = keepIds(before, read('intro: | G7 |\nA:\n| C | F G | Am | D |\nB:\n| E | A |'));
    expect(edited.sections.map((section) => section.id)).toEqual(['s3', 's1', 's2']);
  });

  test('where the slots of a text are in the edited text', () => {
    const kept = slotsKept(before, read('A:\n| G7 | C | F G | D |\nB:\n| E | A |'));
    expect(kept.get('b2.2' as SlotId)).toBe('b3.2');
    expect(kept.has('b3.1' as SlotId)).toBe(false);
    expect(kept.get('b6.1' as SlotId)).toBe('b6.1');
  });

  test('nothing but ids changes, none is there twice, and what is the same keeps all of them', () => {
    fc.assert(
      fc.property(inventedChart, inventedChart, (one, other) => {
        const [first, second] = [read(one.text), read(other.text)];
        expect(keepIds(first, first)).toEqual(first);
        const kept = keepIds(first, second);
        const all = barsOf(kept).flatMap((bar) => [bar.id as string, ...bar.slots.map((slot) => slot.id as string)]);
        expect(new Set(all).size).toBe(all.length);
        const bare = (chart: Chart): unknown =>
          JSON.parse(JSON.stringify(chart, (name, value: unknown) => (name === 'id' ? undefined : value)));
        expect(bare(kept)).toEqual(bare(second));
      }),
      { seed: 1, numRuns: 200 },
    );
  });
});
