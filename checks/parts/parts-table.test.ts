/**
 * A part is a row of `parts/part.ts`: nobody decides by its name or its staff's, so that a new row is written, played and shown
 * without a line elsewhere. Our own rule (CONTRIBUTING.md).
 */
import { readdirSync, readFileSync } from 'node:fs';
import { DEFAULT_CHOICES, makeLesson, midiOf, partFaults, PARTS, readChart } from '@fivespan/core';
import { describe, expect, test } from 'vitest';

const ROOT = new URL('../..', import.meta.url);
const NAMES = PARTS.flatMap(({ id, staff }) => [id, staff]).join('|');
/** A comparison or a case with a part's name on one side; `kind` and `role` of something else may share a word. */
const DECIDES = new RegExp(
  `(?<!\\bkind )(?<![!=])[!=]==? *['"](?:${NAMES})['"]|['"](?:${NAMES})['"] *[!=]==? |case ['"](?:${NAMES})['"]:`,
  'u',
);

/** Lines that share a word with the table and decide by something else: what it is, by the line's own text. */
const OTHERS: Readonly<Record<string, string>> = {
  "if (chord === null || role === 'bass') return name;":
    "what a bass note is for: 'bass' is a slash chord's written bass",
  "const gap = part === 'root' || part === 'bass' ? (GAPS[before] ?? styles.afterOther) : '';":
    'a piece of a chord symbol',
  "group === 'voicings' ? [voicings, pins.parts.voicings] : null,": 'a group of parts',
  "return part?.group === 'voicings' ? 'voicings' : LINES.find((each) => each === part?.id);": 'a group of parts',
  "const VOICING_STAVES = PARTS.filter(({ group }) => group === 'voicings').toSorted((a) => (a.hand === 'left' ? -1 : 1));":
    'a group of parts',
  "const players = ACCOMPANISTS.filter((each) => each !== 'left hand' || leftNotes < LEFT_HAND_NOTES);":
    'a player of the trio',
};

/** Places where a line of the product's source decides by a part's name. */
function decisions(folder: string): string[] {
  return readdirSync(new URL(folder, ROOT), { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.tsx?$/u.test(file) && !file.includes('.test.'))
    .flatMap((file) =>
      readFileSync(new URL(`${folder}/${file}`, ROOT), 'utf8')
        .split('\n')
        .flatMap((line, index) =>
          DECIDES.test(line) && !Object.hasOwn(OTHERS, line.trim())
            ? [`${folder}/${file}:${index + 1}: ${line.trim()}`]
            : [],
        ),
    );
}

test.each(['packages/core/src', 'packages/formats/src', 'apps/cli/src', 'apps/web/src'])(
  'nothing in %s compares with the name of a part',
  (folder) => {
    expect(decisions(folder)).toEqual([]);
  },
);

test.each(["if (staff.role === 'left hand')", "'chorus' !== id", "case 'bass':"])('would find %s', (line) => {
  expect(DECIDES.test(line)).toBe(true);
});

describe('every row keeps its own rules', () => {
  const examples = readdirSync(new URL('examples', ROOT)).filter((file) => file.endsWith('.chart'));

  test.each(examples.flatMap((file) => ([1, 2, 3, 4] as const).map((level) => [file, level] as const)))(
    'in %s at level %i',
    (file, level) => {
      const read = readChart(readFileSync(new URL(`examples/${file}`, ROOT), 'utf8'));
      if (!read.ok) throw new TypeError(`${file} must be readable`);
      const lesson = makeLesson(read.value, { ...DEFAULT_CHOICES, level });
      const faults = partFaults(lesson, lesson);
      expect(Object.keys(faults).toSorted()).toEqual(PARTS.map(({ id }) => id).toSorted());
      expect(Object.values(faults).flat()).toEqual([]);
    },
  );

  test("a double bass keeps its own range, wider than the left hand's F1 to E3", () => {
    const read = readChart('key: E minor\n\n| Em7 Fmaj7 Em7 Fmaj7 | Em7 | F7 | Em7 Gm7 | Em7/G | Bb7 | A7 | Em7 |\n');
    if (!read.ok) throw new TypeError('a plain chart must be readable');
    const bass = { feel: 'four', range: 'double bass' } as const;
    const lessons = [1, 2, 3].map((seed) => makeLesson(read.value, { ...DEFAULT_CHOICES, seed, bass, level: 3 }));
    expect(lessons.some((lesson) => lesson.bass.some(({ pitch }) => midiOf(pitch) < 29 || midiOf(pitch) > 52))).toBe(
      true,
    );
    for (const lesson of lessons) expect(partFaults(lesson, lesson).bass).toEqual([]);
  });

  test('and would tell a bass that is played backwards', () => {
    const read = readChart('key: C major\n\n| Dm7 | G7 | Cmaj7 | % |\n');
    if (!read.ok) throw new TypeError('a plain chart must be readable');
    const lesson = makeLesson(read.value, DEFAULT_CHOICES);
    const pitches = lesson.bass.map(({ pitch }) => pitch).toReversed();
    const backwards = lesson.bass.map((note, index) => ({ ...note, pitch: pitches[index] ?? note.pitch }));
    expect(partFaults(lesson, { ...lesson, bass: backwards }).bass).not.toEqual([]);
  });
});
