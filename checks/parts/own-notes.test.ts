/**
 * A teacher's own notes in every key, against the judge of checks/theory/spelling-judge.ts, written from docs/spelling.md (common
 * practice, as this house settled it): what is changed by a step of the chord-scale is spelled as anything else over that chord.
 */
import { readFileSync } from 'node:fs';
import {
  DEFAULT_CHOICES,
  keyByStep,
  makeLesson,
  midiOf,
  notePinIssues,
  parseKey,
  pinOfStretch,
  readChart,
  usualKeys,
  type Choices,
  type Key,
  type NotePin,
} from '@fivespan/core';
import { expect, test } from 'vitest';
import { judgeSpelling, wordsOfFault } from '../theory/spelling-judge.ts';

const RESPELLED = ['F# major', 'C# major', 'Cb major', 'D# minor', 'Ab minor'].map((each) => parseKey(each) as Key);

test.each(['DEMO', 'winter-platform'])('every note over every chord a step higher: %s', (name) => {
  const read = readChart(readFileSync(new URL(`../../examples/${name}.chart`, import.meta.url), 'utf8'));
  if (!read.ok) throw new TypeError(`${name} must be a chart`);
  const chart = read.value;
  const plain = makeLesson(chart, { ...DEFAULT_CHOICES, level: 3 });
  const notes = plain.plan.slots.flatMap((slot, slotIndex) =>
    (['chorus', 'bass'] as const).map((part): NotePin => {
      const pin = pinOfStretch(plain.plan, part, plain[part], slotIndex);
      // every other chord's: composed and own notes meet
      const steps = slotIndex % 2;
      return { ...pin, notes: pin.notes.map((note) => ({ ...note, key: keyByStep(slot, note.key, steps) })) };
    }),
  );
  const { pins } = DEFAULT_CHOICES;
  const choices: Choices = { ...DEFAULT_CHOICES, level: 3, pins: { ...pins, parts: { ...pins.parts, notes } } };
  const { mode } = plain.analysis.key;
  const keys = [...usualKeys(mode), ...RESPELLED.filter((each) => each.mode === mode)];
  expect(keys.length).toBe(mode === 'major' ? 15 : 14);
  // in minor the respelled ones and every fourth: each key is a lesson anew
  for (const key of mode === 'major' ? keys : keys.filter((each, at) => at % 4 === 0 || RESPELLED.includes(each))) {
    const lesson = makeLesson(chart, choices, key);
    expect(notePinIssues(lesson.plan, lesson.choices.pins.parts.notes)).toEqual([]);
    expect(lesson.chorus.every(({ own }) => own === true)).toBe(true);
    const asked = lesson.choices.pins.parts.notes.filter(({ part }) => part === 'chorus');
    expect(lesson.chorus.map(({ pitch }) => midiOf(pitch))).toEqual(
      asked.flatMap((each) => each.notes.map((note) => note.key)),
    );
    expect(judgeSpelling(lesson).faults.map(wordsOfFault)).toEqual([]);
  }
});
