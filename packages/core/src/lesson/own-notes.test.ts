import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readChart, slotsKept, type Chart } from '../chart/index.ts';
import { inventedChart } from '../chart/invented-chart.ts';
import { messageOf } from '../issue/index.ts';
import {
  chorusFaults,
  editNotes,
  HIGHEST_BASS,
  isLeap,
  keyByStep,
  LOWEST_BASS,
  notePinIssues,
  PARTS,
  partFaults,
  pinOfStretch,
  type LineId,
  type NotePin,
  type PartNote,
} from '../parts/index.ts';
import { formatKey, formatNoteName, parseKey, usualKeys, type Key } from '../theory/index.ts';
import { DEFAULT_CHOICES, type Choices, type Lesson } from './lesson.ts';
import { makeLesson } from './make-lesson.ts';
import { nearestSemitones } from './pins-in-key.ts';
import { writeLessonDocument } from './document.ts';

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new TypeError('a chart');
  return read.value;
}

const demo = chartOf(readFileSync(new URL('../../../../examples/DEMO.chart', import.meta.url), 'utf8'));
const KEYS = [...usualKeys('major'), ...['F# major', 'C# major', 'Cb major'].map((each) => parseKey(each) as Key)];

function withNotes(notes: readonly NotePin[], more: Partial<Choices> = {}): Choices {
  const { pins } = DEFAULT_CHOICES;
  return { ...DEFAULT_CHOICES, ...more, pins: { ...pins, parts: { ...pins.parts, notes } } };
}

/** What begins over a slot: onset, length, key. */
function heard({ plan }: Lesson, line: readonly PartNote[], slotIndex: number): number[][] {
  const { notes } = pinOfStretch(plan, 'chorus', line, slotIndex);
  return notes.map(({ onsetTicks, durationTicks, key }) => [onsetTicks, durationTicks, key]);
}

/** A slot's notes with the first a step higher; where none is, one put in. */
function pinned(lesson: Lesson, part: LineId, slotIndex: number): NotePin {
  const pin = pinOfStretch(lesson.plan, part, lesson[part], slotIndex);
  const slot = lesson.plan.slots[slotIndex];
  if (slot === undefined) throw new TypeError('a slot');
  const { startTicks, endTicks } = slot.analysed.played;
  const room = { lengthTicks: endTicks - startTicks, mostTicks: endTicks - startTicks };
  const [first] = pin.notes;
  const edited =
    first === undefined
      ? editNotes([], -1, { kind: 'add', key: part === 'bass' ? 41 : 72 }, room)
      : editNotes(pin.notes, 0, { kind: 'move', key: keyByStep(slot, first.key, 1) }, room);
  return { ...pin, notes: edited?.notes ?? [] };
}

const LINES = ['chorus', 'bass'] as const;

describe('a teacher’s own notes', () => {
  const plain = makeLesson(demo, DEFAULT_CHOICES);
  const pins = [pinned(plain, 'chorus', 4), pinned(plain, 'bass', 2), pinned(plain, 'chorus', 7)];
  const own = makeLesson(demo, withNotes(pins));

  test.each(KEYS.filter((_, index) => index % 7 === 1).map((each) => [formatKey(each), each] as const))(
    'go to every key, exactly: %s',
    (_, to) => {
      const there = makeLesson(demo, withNotes(pins), to);
      const semitones = nearestSemitones(own.writtenKey, to);
      for (const [part, slotIndex] of [
        ['chorus', 4],
        ['chorus', 7],
        ['bass', 2],
      ] as const) {
        const home = heard(own, own[part], slotIndex);
        const seen = heard(there, there[part], slotIndex);
        // a bass that would leave its range goes by octaves, as a composed one does
        const octaves = Math.round(((seen[0]?.[2] ?? 0) - (home[0]?.[2] ?? 0) - semitones) / 12);
        expect(seen).toEqual(home.map(([at, last, key = 0]) => [at, last, key + semitones + 12 * octaves]));
        if (part === 'chorus') expect(octaves).toBe(0);
        const within = (key: number) => key >= LOWEST_BASS && key <= HIGHEST_BASS;
        // what the teacher wrote outside the range at home stays so
        if (part === 'bass' && home.every(([, , key = 0]) => within(key))) {
          expect(seen.every(([, , key = 0]) => within(key))).toBe(true);
        }
      }
      expect(partFaults(there, there).chorus).toEqual([]);
      expect(notePinIssues(there.plan, there.choices.pins.parts.notes)).toEqual([]);
    },
  );

  // fingers 1 and 5 of a medium hand reach 12 white-key steps in practice, a tenth and a little (Balliauw and others 2017; R)
  test('a note no finger reaches from the one before it is told as a leap, for the hand it is written for', () => {
    const slot = plain.plan.slots.findIndex((_, index) => heard(plain, plain.chorus, index).length > 2);
    const pin = pinOfStretch(plain.plan, 'chorus', plain.chorus, slot);
    const at = plain.plan.slots[slot]!.analysed.played.startTicks;
    const leaps = (octaves: number, breath = 0): boolean => {
      const [first, second] = pin.notes as [NotePin['notes'][number], NotePin['notes'][number]];
      const notes = [
        { ...first, onsetTicks: 0, durationTicks: 480 },
        { ...second, onsetTicks: 480 + breath, durationTicks: 480, key: first.key + 2 + 12 * octaves },
      ];
      const { chorus, choices } = makeLesson(demo, withNotes([{ ...pin, notes }]));
      const index = chorus.findIndex(({ startTicks }) => startTicks === at + 480 + breath);
      return isLeap(chorus, index, choices.hand);
    };
    expect([leaps(0), leaps(2), leaps(-2)]).toEqual([false, true, true]);
    // after a breath the hand has gone there
    expect(leaps(2, 960)).toBe(false);
  });

  test('home again is home, byte for byte', () => {
    const choices = withNotes(pins, { shownIn: parseKey('A major') as Key });
    makeLesson(demo, choices);
    const document = (each: Choices) => writeLessonDocument({ chartText: '| C |', choices: each, engine: 1 });
    expect(document({ ...choices, shownIn: null })).toBe(document(withNotes(pins)));
    expect(makeLesson(demo, { ...choices, shownIn: null }).score).toEqual(own.score);
  });

  test('stay with another seed, another level and another curve; bars that are not theirs stay too', () => {
    for (const more of [{ seed: 9 }, { level: 3 }, { curve: [2, 0] }] as const) {
      const lesson = makeLesson(demo, withNotes(pins, more));
      for (const { part, slot, notes } of pins) {
        const index = lesson.plan.slots.findIndex(({ analysed }) => analysed.played.slot.id === slot);
        expect(heard(lesson, lesson[part], index).map(([, , key]) => key)).toEqual(notes.map(({ key }) => key));
      }
    }
    const far = (lesson: Lesson, slotIndex: number) => heard(lesson, lesson.chorus, slotIndex);
    const { length } = plain.plan.slots;
    const untouched = Array.from({ length }, (_, index) => index).filter((index) => index > 10);
    for (const index of untouched) expect(far(own, index)).toEqual(far(plain, index));
  });

  test('a chord changed next door leaves them; their own chord changed so that they rub is told, and they wait', () => {
    const text = readFileSync(new URL('../../../../examples/DEMO.chart', import.meta.url), 'utf8');
    const slot = own.plan.slots[4];
    const symbol = slot?.analysed.played.slot.chord.symbol ?? '';
    const bar = slot?.analysed.played.playedBar.bar.number;
    expect([symbol, text.includes(symbol)]).toEqual([symbol, true]);
    const changed = (to: string): Lesson => {
      // every chord of that symbol: the pin's and, elsewhere, others
      const after = chartOf(text.replaceAll(new RegExp(`(?<=[|\\s])${symbol}(?=[\\s|])`, 'gu'), to));
      expect(slotsKept(demo, after).size).toBeGreaterThan(0);
      return makeLesson(after, withNotes([pins[0] as NotePin]));
    };
    const lesson = changed('Gb7');
    const issues = notePinIssues(lesson.plan, lesson.choices.pins.parts.notes);
    expect(issues.map(({ code, place }) => [code, place.bar])).toEqual([['parts.notes-chord', bar]]);
    expect(messageOf(issues[0] as (typeof issues)[number])).toContain('the chord is Gb7 now');
    expect(chorusFaults(lesson.plan, lesson.chorus)).toEqual([]);
  });

  test('say what they do, each in its own words', () => {
    for (const note of own.chorus.filter((each) => each.own === true)) {
      const words = PARTS[0]?.words(note.why, formatNoteName(note.pitch.name));
      expect(words).toMatch(/^your [A-G]/u);
      expect(note.finger).toBeGreaterThan(0);
    }
    const rubbing = makeLesson(
      chartOf('key: C\n| Dm7 | G7 | Cmaj7 | Cmaj7 |\n'),
      withNotes([
        {
          part: 'chorus',
          slot: 'b3.1',
          pass: 1,
          over: 'Cmaj7',
          notes: [{ onsetTicks: 0, durationTicks: 960, key: 77 }],
        },
        {
          part: 'chorus',
          slot: 'b4.1',
          pass: 1,
          over: 'Cmaj7',
          notes: [
            { onsetTicks: 0, durationTicks: 480, key: 77 },
            { onsetTicks: 480, durationTicks: 480, key: 76 },
            { onsetTicks: 960, durationTicks: 480, key: 75 },
            { onsetTicks: 1440, durationTicks: 480, key: 76 },
            { onsetTicks: 1920, durationTicks: 480, key: 74 },
            { onsetTicks: 2400, durationTicks: 480, key: 73 },
          ],
        },
      ]),
    );
    const told = rubbing.chorus.filter(({ own: isOwn }) => isOwn === true);
    expect(told.map(({ why, pitch }) => `${formatNoteName(pitch.name)} ${why.code}`)).toEqual([
      'F own.hangs',
      'F own.resolves',
      'E own.guide-tone',
      'D# own.approach',
      'E own.guide-tone',
      'D own.tension',
      'Db own.outside',
    ]);
  });

  test('over charts that nobody wrote: what is pinned is there, the rest keeps its rules', () => {
    fc.assert(
      fc.property(
        inventedChart,
        fc.constantFrom(1, 2, 3, 4),
        fc.nat({ max: 40 }),
        fc.constantFrom(...LINES),
        ({ text }, level, place, part) => {
          const chart = chartOf(text);
          const choices = { level } as const;
          const before = makeLesson(chart, { ...DEFAULT_CHOICES, ...choices });
          const slotIndex = place % before.plan.slots.length;
          const pin = pinned(before, part, slotIndex);
          const lesson = makeLesson(chart, withNotes([pin], choices));
          if (notePinIssues(lesson.plan, [pin]).length > 0) return;
          expect(heard(lesson, lesson[part], slotIndex)).toEqual(
            pin.notes.map(({ onsetTicks, durationTicks, key }) => [onsetTicks, durationTicks, key]),
          );
          if (part === 'chorus')
            expect(chorusFaults(lesson.plan, lesson.chorus).filter(({ code }) => code !== 'three-times')).toEqual([]);
          const starts = lesson[part].map(({ startTicks }) => startTicks);
          expect(starts).toEqual(starts.toSorted((a, b) => a - b));
          for (const [index, note] of lesson[part].entries()) {
            const next = lesson[part][index + 1];
            expect(note.startTicks + note.durationTicks).toBeLessThanOrEqual(next?.startTicks ?? Infinity);
          }
          expect(makeLesson(chart, withNotes([pin], choices)).score).toEqual(lesson.score);
        },
      ),
      { numRuns: 5, seed: 14 },
    );
  });
});
