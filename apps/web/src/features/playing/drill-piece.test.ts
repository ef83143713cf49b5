import {
  DEFAULT_CHOICES,
  keysRound,
  makeDrill,
  midiOf,
  parseKey,
  readChart,
  type Chart,
  type Key,
} from '@fivespan/core';
import { expect, test } from 'vitest';
import { drillFormOf, playedDrill } from './drill-piece.ts';
import { TOO_LONG } from './too-long.ts';

const read = readChart('key: C major\ntempo: 120\n\nDm7 | G7 | Cmaj7 | Cmaj7\n');
const chart = (read.ok ? read.value : null) as Chart;
const keys = keysRound(parseKey('C major') as Key, 'fifths', 1).slice(0, 2);
const watch = { report: () => {}, cancelled: () => false, breathe: async () => {} };

test('a drill is played at each tempo in each key, with a form for each segment', () => {
  const order = { kind: 'thumbs', bars: null, keys, tempi: { steps: [80, 100] } } as const;
  const made = playedDrill(chart, DEFAULT_CHOICES, order, watch);
  const choruses = made!.played.segments.filter(({ kind }) => kind === 'chorus');
  expect(choruses.map(({ tempoBpm }) => tempoBpm)).toEqual([80, 80, 100, 100]);
  expect(made!.forms).toHaveLength(made!.played.segments.length);
  // thumbs alone, then whole positions: the four bars twice
  expect(made!.forms[0]!.bars).toHaveLength(8);
  expect(made!.played.players.map(({ plays }) => plays)).toContain('right hand');
});

test('what is shown of the hand is where its notes have it', () => {
  const made = makeDrill(chart, DEFAULT_CHOICES, { kind: 'in-thirds', bars: null, keys: [], tempi: null });
  const inKey = (made.ok ? made.value.keys[0] : undefined)!;
  const { slots } = drillFormOf(inKey, true);
  for (const note of inKey.lesson.chorus) {
    const slot = slots.find(({ startTicks, endTicks }) => note.startTicks >= startTicks && note.startTicks < endTicks)!;
    const thumb = midiOf(note.pitch) - note.position.shape.steps[note.finger - 1]!;
    expect(slot.hand!.thumbMidi).toBe(thumb);
  }
  expect(slots.length).toBeGreaterThan(inKey.lesson.plan.slots.length);
});

test('one that nobody would play to its end is refused, and bars that are not there are told', () => {
  const steps = Array.from({ length: 300 }, (_, step) => 20 + (step % 60));
  const long = {
    kind: 'finger-patterns',
    bars: null,
    keys: keysRound(keys[0]!, 'fifths', 1),
    tempi: { steps },
  } as const;
  expect(() => playedDrill(chart, DEFAULT_CHOICES, long, watch)).toThrow(TOO_LONG);
  const none = { kind: 'thumbs', bars: { from: 9, to: 9 }, keys: [], tempi: null } as const;
  expect(() => playedDrill(chart, DEFAULT_CHOICES, none, watch)).toThrow(/has none of the bars 9 to 9/u);
});
