import { expect, test } from 'vitest';
import { readChart } from '../chart/index.ts';
import { motivePinOf, pinOfStretch, type MotivePin } from '../parts/index.ts';
import { parseKey, type Key } from '../theory/index.ts';
import { DEFAULT_CHOICES, type Choices } from './lesson.ts';
import { lessonMaker, makeLesson } from './make-lesson.ts';

const read = readChart('key: Eb\n| Fm7 | Bb7 | Ebmaj7 | C7(b9) |\n');
if (!read.ok) throw new TypeError('a chart');
const tune = read.value;

test('a lesson that is changed step by step is the one that is made anew, whatever is changed', () => {
  const again = lessonMaker();
  const { pins } = DEFAULT_CHOICES;
  const plain = again(tune, DEFAULT_CHOICES);
  const pin = pinOfStretch(plain.plan, 'bass', plain.bass, 2);
  const notes = [{ ...pin, notes: pin.notes.map((note) => ({ ...note, key: note.key - 1 })) }];
  const voicings = [{ slot: pin.slot, pass: 1, keys: [51, 55, 58], own: { over: pin.over, left: 3 } }];
  const [first] = plain.plan.slots;
  const region = { slot: first?.analysed.played.slot.id ?? '', pass: 1, key: parseKey('Ab major') as Key };
  const motive = motivePinOf(plain.chorus.filter((note) => note.motive?.statement === 0).slice(0, 4)) as MotivePin;
  expect(motive.notes.length).toBeGreaterThan(2);
  const changes: readonly Partial<Choices>[] = [
    { pins: { ...pins, parts: { ...pins.parts, notes } } },
    { pins: { ...pins, parts: { ...pins.parts, notes, voicings } } },
    { pins: { ...pins, parts: { notes, voicings, motives: [motive] } } },
    { shownIn: parseKey('A major') as Key },
    { bass: { feel: null, range: 'double bass' } },
    { pins: { ...pins, analysis: { ...pins.analysis, regions: [region] } } },
    { seed: 5, level: 3 },
    { hand: 'small' },
    { curve: [2, 0] },
    { voicings: 'shells' },
  ];
  let choices = DEFAULT_CHOICES;
  for (const change of changes) {
    choices = { ...choices, ...change };
    expect(structuredClone(again(structuredClone(tune), choices))).toEqual(makeLesson(tune, choices));
  }
  // back to an earlier one
  expect(again(tune, DEFAULT_CHOICES)).toEqual(plain);
});

test('of an edit of notes nothing is searched again: plan and analysis are the same objects', () => {
  const again = lessonMaker();
  const plain = again(tune, DEFAULT_CHOICES);
  const pin = pinOfStretch(plain.plan, 'chorus', plain.chorus, 2);
  const { pins } = DEFAULT_CHOICES;
  const edited = again(structuredClone(tune), {
    ...DEFAULT_CHOICES,
    pins: { ...pins, parts: { ...pins.parts, notes: [{ ...pin, notes: pin.notes.slice(1) }] } },
  });
  expect([edited.plan === plain.plan, edited.analysis === plain.analysis, edited.voicings === plain.voicings]).toEqual([
    true,
    true,
    true,
  ]);
  expect(edited.chorus).not.toEqual(plain.chorus);
});
