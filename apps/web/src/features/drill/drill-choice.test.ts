import { formatKey, parseKey, readChart, type Chart, type Key } from '@fivespan/core';
import { beforeEach, expect, test } from 'vitest';
import { $drillChoice, chooseDrill, drillChoiceFor, drillOrderOf } from './drill-choice.ts';

const read = readChart('key: C major\ntempo: 120\n\nDm7 | G7 | Cmaj7 | Cmaj7 | A7 | D7\n');
const chart = (read.ok ? read.value : null) as Chart;
const home = parseKey('C major') as Key;

beforeEach(() => $drillChoice.set(null));

test('begins with the first bars, up to the tune’s tempo', () => {
  expect(drillChoiceFor('a', chart, null)).toMatchObject({ fromBar: 1, toBar: 4, fromBpm: 72, toBpm: 120 });
});

test('the ends of bars and tempi stay in order, whichever is moved', () => {
  chooseDrill(drillChoiceFor('a', chart, null), { fromBar: 6, fromBpm: 140 });
  expect($drillChoice.get()).toMatchObject({ fromBar: 6, toBar: 6, fromBpm: 140, toBpm: 140 });
  chooseDrill(drillChoiceFor('a', chart, $drillChoice.get()), { toBar: 2, toBpm: 60 });
  expect($drillChoice.get()).toMatchObject({ fromBar: 2, toBar: 2, fromBpm: 60, toBpm: 60 });
});

test('of another lesson nothing is taken over, of a chart that became shorter no bar that is gone', () => {
  chooseDrill(drillChoiceFor('a', chart, null), { fromBar: 5, toBar: 6, kind: 'motive' });
  const chosen = $drillChoice.get();
  expect(drillChoiceFor('b', chart, chosen).kind).toBe('thumbs');
  const short = readChart('key: C major\n\nDm7 | G7 | Cmaj7\n');
  expect(drillChoiceFor('a', (short.ok ? short.value : null) as Chart, chosen)).toMatchObject({ fromBar: 3, toBar: 3 });
});

test('is asked for in so many keys round a cycle, from home', () => {
  chooseDrill(drillChoiceFor('a', chart, null), { round: 'fifths', keyCount: 3 });
  const order = drillOrderOf(drillChoiceFor('a', chart, $drillChoice.get()), home, 1);
  expect(order.keys.map(formatKey)).toEqual(['C major', 'G major', 'D major']);
});

test('a kept phrase is drilled over chords like its own, over the bars of the fields where it is asked to; other kinds have none', () => {
  chooseDrill(drillChoiceFor('a', chart, null), { kind: 'same-line', phrase: 'opening', fromBar: 3 });
  const chosen = drillChoiceFor('a', chart, $drillChoice.get());
  expect(drillOrderOf(chosen, home, 1)).toMatchObject({ phrase: 'opening', bars: null });
  chooseDrill(chosen, { isPhraseOverBars: true });
  const overBars = drillChoiceFor('a', chart, $drillChoice.get());
  expect(drillOrderOf(overBars, home, 1)).toMatchObject({ phrase: 'opening', bars: { from: 3 } });
  expect(drillOrderOf({ ...chosen, kind: 'thumbs' }, home, 1)).not.toHaveProperty('phrase');
});
