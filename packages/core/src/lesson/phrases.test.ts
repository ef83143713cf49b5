import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readChart, type Chart } from '../chart/index.ts';
import { messageOf } from '../issue/index.ts';
import { chorusFaults, phraseOf, placedPhrase, notePinIssues, type NotePin, type Phrase } from '../parts/index.ts';
import { formatKey, midiOf, parseKey, usualKeys, type Key } from '../theory/index.ts';
import { keysRound, makeDrill, type DrillOrder } from './drill/index.ts';
import { DEFAULT_CHOICES, type Choices, type Lesson } from './lesson.ts';
import { makeLesson } from './make-lesson.ts';
import { transposePhrase, unmovedPhrase } from './pins-in-key.ts';

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new TypeError('a chart');
  return read.value;
}

const demo = chartOf(readFileSync(new URL('../../../../examples/DEMO.chart', import.meta.url), 'utf8'));
const plain = makeLesson(demo, DEFAULT_CHOICES);

/** A ii–V–I line of one's own over two places a whole step apart: invented for this test. */
const TWO = chartOf('key: C\n| Dm7 | G7 | Cmaj7 | Cmaj7 | Cm7 | F7 | Bbmaj7 | Bbmaj7 | Cmaj7 | Fm6 |\n');
const two = makeLesson(TWO, DEFAULT_CHOICES);
const phrase: Phrase = {
  name: 'down the third',
  part: 'chorus',
  lengthTicks: 3840 * 2,
  chords: [
    { onsetTicks: 0, symbol: 'Dm7' },
    { onsetTicks: 3840, symbol: 'G7' },
  ],
  notes: [
    { onsetTicks: 480, durationTicks: 480, key: 74 },
    { onsetTicks: 960, durationTicks: 960, key: 77 },
    { onsetTicks: 3840, durationTicks: 960, key: 71 },
    { onsetTicks: 4800, durationTicks: 480, key: 74 },
  ],
};

function putInto(lesson: Lesson, chart: Chart, slotIndex: number, kept: Phrase = phrase) {
  const placed = placedPhrase(lesson.plan, kept, lesson.chorus, slotIndex, 'left hand');
  if (placed === undefined) throw new TypeError('room');
  const { pins } = DEFAULT_CHOICES;
  const notes: readonly NotePin[] = placed.pins;
  const choices: Choices = { ...DEFAULT_CHOICES, pins: { ...pins, parts: { ...pins.parts, notes } } };
  return { placed, lesson: makeLesson(chart, choices) };
}

describe('a phrase that is kept', () => {
  test('is what the line plays over its chords, and put back there changes nothing', () => {
    const kept = phraseOf(plain.plan, { part: 'chorus', name: 'bars 5 to 8' }, plain.chorus, 4, 4);
    if (kept === undefined) throw new TypeError('notes');
    expect(kept.chords).toHaveLength(4);
    const { placed, lesson } = putInto(plain, demo, 4, kept);
    expect([placed.semitones, placed.pins.length]).toEqual([0, 4]);
    expect(lesson.chorus.map(({ startTicks, pitch }) => [startTicks, midiOf(pitch)])).toEqual(
      plain.chorus.map(({ startTicks, pitch }) => [startTicks, midiOf(pitch)]),
    );
  });

  test('goes over another chord note for note, moved by its root, the nearer way', () => {
    const { placed, lesson } = putInto(two, TWO, 4);
    expect([placed.semitones, placed.rubs]).toEqual([-2, []]);
    const there = lesson.chorus.filter(
      ({ startTicks }) => startTicks >= placed.startTicks && startTicks < placed.endTicks,
    );
    expect(there.map((note) => [note.startTicks - placed.startTicks, note.durationTicks, midiOf(note.pitch)])).toEqual(
      phrase.notes.map(({ onsetTicks, durationTicks, key }) => [onsetTicks, durationTicks, key - 2]),
    );
    expect(there.every(({ own }) => own === true)).toBe(true);
    expect(chorusFaults(lesson.plan, lesson.chorus)).toEqual([]);
  });

  test('after a phrase that ends within a bar the line goes on as it was', () => {
    const short: Phrase = {
      ...phrase,
      lengthTicks: 1920,
      chords: phrase.chords.slice(0, 1),
      notes: phrase.notes.slice(0, 2),
    };
    const { placed } = putInto(two, TWO, 0, short);
    const [pin] = placed.pins;
    const late = two.chorus.filter(({ startTicks }) => startTicks >= 1920 && startTicks < 3840);
    expect(pin?.notes.slice(2).map(({ onsetTicks }) => onsetTicks)).toEqual(late.map(({ startTicks }) => startTicks));
  });

  test('where it rubs is told, and where the form ends before it', () => {
    const major = placedPhrase(two.plan, phrase, two.chorus, 8, 'left hand');
    expect(major?.rubs).toEqual([
      { note: 'Eb', chord: 'Cmaj7' },
      { note: 'A', chord: 'Fm6' },
    ]);
    expect(placedPhrase(two.plan, phrase, two.chorus, 9, 'left hand')).toBeUndefined();
  });

  test('is the same wherever the lesson is shown: kept there or at home', () => {
    for (const to of usualKeys('major')) {
      const there = makeLesson(TWO, { ...DEFAULT_CHOICES, shownIn: to });
      const seen = transposePhrase(phrase, two.analysis.key, to);
      expect(unmovedPhrase(seen, two.analysis.key, to), formatKey(to)).toEqual(phrase);
      const placed = placedPhrase(there.plan, seen, there.chorus, 4, 'left hand');
      expect([placed?.semitones, placed?.rubs], formatKey(to)).toEqual([-2, []]);
      expect(notePinIssues(there.plan, placed?.pins ?? [])).toEqual([]);
    }
  });
});

describe('a drill of a phrase', () => {
  const choices: Choices = { ...DEFAULT_CHOICES, phrases: [phrase, { ...phrase, name: 'low', part: 'bass' }] };
  const order = (more: Partial<DrillOrder> = {}): DrillOrder => ({
    kind: 'same-line',
    bars: null,
    keys: [],
    tempi: null,
    phrase: 'down the third',
    ...more,
  });
  const told = (more: Partial<DrillOrder>): string => {
    const made = makeDrill(TWO, choices, order(more));
    return made.ok ? 'made' : made.issues.map(messageOf).join();
  };

  test('is the phrase in every key, over its own chords', () => {
    const made = makeDrill(TWO, choices, order({ keys: keysRound(parseKey('C major') as Key, 'fifths', 1) }));
    if (!made.ok) throw new TypeError(JSON.stringify(made.issues));
    expect(made.value.order.bars).toEqual({ from: 1, to: 2 });
    expect(made.value.keys).toHaveLength(12);
    const shape = phrase.notes.map(({ onsetTicks, key }) => [onsetTicks, key - 74]);
    for (const { lesson, key } of made.value.keys) {
      const [first] = lesson.chorus;
      const from = first === undefined ? 0 : midiOf(first.pitch);
      expect(
        lesson.chorus.map(({ startTicks, pitch }) => [startTicks, midiOf(pitch) - from]),
        formatKey(key),
      ).toEqual(shape);
    }
  });

  test('lies over the bars that are asked for, where it fits', () => {
    const made = makeDrill(TWO, choices, order({ bars: { from: 5, to: 8 } }));
    if (!made.ok) throw new TypeError(JSON.stringify(made.issues));
    expect(made.value.keys[0]?.lesson.chorus.map(({ pitch }) => midiOf(pitch))).toEqual([72, 75, 69, 72]);
  });

  test('says what stands in the way', () => {
    expect(told({ phrase: 'up' })).toBe("the lesson keeps no phrase 'up'; it has: 'down the third', 'low'");
    expect(told({ phrase: 'low' })).toContain('a phrase of the bass');
    expect(told({ bars: { from: 9, to: 10 } })).toBe(
      "'down the third' does not fit bars 9 to 10: its Eb over Cmaj7 would be left rubbing",
    );
    expect(told({ bars: { from: 10, to: 10 } })).toContain('there is no room for it');
    expect(told({ phrase: 'Down the Third' })).toBe('made');
  });
});
