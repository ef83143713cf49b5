import {
  barOneSeconds,
  computeLesson,
  DEFAULT_CHOICES,
  heardTake,
  judgeTake,
  parseKey,
  readChart,
  takeTempo,
  type Take,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { readTakeMidi } from './take-midi.ts';
import { writeTakeMidi } from './write-take.ts';

// a pickup, and a section named as one of its chords
const read = readChart('title: Ford\nkey: F major\ntempo: 132\n\nC:\npickup: | C |\n| Gm7 | C7 | Fmaj7 | C |\n');
const plain = readChart('title: Ford\nkey: F major\ntempo: 132\n\nC7:\n| Gm7 | C7 | Fmaj7 | C |\n');
const chart = read.ok ? read.value : plain.ok ? plain.value : undefined;
if (chart === undefined) throw new Error('the chart must be right');
const computed = computeLesson(chart, DEFAULT_CHOICES, parseKey('G major') ?? null);
if (!computed.ok) throw new Error('the lesson must be made');
const lesson = computed.value;

const take: Take = {
  engine: 4,
  lesson: 'ford',
  edition: 0,
  document: '',
  programme: { tempoBpm: 99, key: 'G major', countInBars: 2, isToClick: true },
  barOneMicros: 4_000_000 + 31_000,
  delayMs: 31,
  notes: Array.from({ length: 60 }, (_, index) => ({
    startMicros: 3_900_000 + index * 311_000,
    durationMicros: 250_000,
    key: [69, 72, 74, 76, 79][index % 5] as number,
    velocity: 50 + (index % 40),
    channel: 0,
  })),
  pedals: [{ atMicros: 5_000_000, value: 127, channel: 0 }],
};

describe('a take as a MIDI file', () => {
  test('read back it is the same take: every note within half a millisecond, bar 1 in its place, the same report', () => {
    const back = readTakeMidi(writeTakeMidi(take, lesson));
    if (!back.ok) throw new Error(JSON.stringify(back.issues));
    const tempo = takeTempo(back.value.quartersAMinute, lesson);
    expect(tempo).toBeCloseTo(99, 3);
    const start = barOneSeconds(lesson, tempo, { markers: back.value.markers, countInBars: null });
    const heard = heardTake(take);
    const notes = back.value.notes.map((note) => ({ ...note, startSeconds: note.startSeconds - start }));
    expect(notes.length).toBe(60);
    for (const [index, note] of notes.entries()) {
      expect(Math.abs(note.startSeconds - (heard[index]?.startSeconds ?? 0))).toBeLessThan(0.0005);
      expect(note).toMatchObject({ key: heard[index]?.key, velocity: heard[index]?.velocity, hand: 'right' });
    }
    const codes = (of: typeof notes): unknown => judgeTake(lesson, of, tempo).findings.map(({ code }) => code);
    expect(codes(notes)).toEqual(codes([...heard]));
  });
  test('the same take gives the same bytes', () => {
    expect(writeTakeMidi(take, lesson)).toEqual(writeTakeMidi(take, lesson));
  });
});
