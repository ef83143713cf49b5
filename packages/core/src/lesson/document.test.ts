import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { messageOf } from '../issue/index.ts';
import { parseKey, type Key } from '../theory/index.ts';
import { DOCUMENT_VERSION, readLessonDocument, writeLessonDocument } from './document.ts';
import { ENGINE_VERSION } from './engine.ts';
import { DEFAULT_CHOICES, type Choices } from './lesson.ts';

const key = (text: string): Key => parseKey(text) as Key;

const CHOICES: Choices = {
  shownIn: key('F major'),
  keys: [key('Eb major'), key('B major')],
  seed: 7,
  level: 2,
  curve: [0, 1, 2, 0],
  bass: { feel: 'two', range: 'double bass' },
  comping: 'sparse',
  voicings: 'quartal',
  hand: { spanMm: 190 },
  playPage: 'free hand',
  film: [
    {
      kind: 'title',
      words: 'Listen first.',
      seconds: 6,
      slot: null,
      key: null,
      isDemonstrated: true,
      voice: { name: 'hello.wav', hash: 'a0'.repeat(32), seconds: 5.25, key: key('F major') },
    },
    { kind: 'play', words: null, seconds: null, slot: null, key: key('Eb major'), isDemonstrated: false, voice: null },
  ],
  programme: {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 2,
    aids: { restBars: 1, metronome: 'two and four', answers: 'fours' },
    choruses: [
      { key: key('Eb major'), tempoBpm: 90, players: ['left hand', 'bass', 'drums'] },
      { key: key('Ab major'), tempoBpm: 120, players: ['drums'] },
    ],
  },
  phrases: [
    {
      name: 'the opening',
      part: 'chorus',
      lengthTicks: 3840,
      chords: [{ onsetTicks: 0, symbol: 'Fm7' }],
      notes: [{ onsetTicks: 480, durationTicks: 480, key: 72 }],
    },
  ],
  pins: {
    analysis: {
      regions: [{ slot: 'b1.1', pass: 1, key: key('Ab major') }],
      numerals: [{ slot: 'b2.1', pass: 2, numeral: 'V7' }],
    },
    plan: {
      chordScales: [{ slot: 'b1.1', pass: 1, chordScale: 'lydian@1' }],
      positions: [{ slot: 'b1.1', pass: 1, shape: 'minor-pentatonic', thumbMidi: 60 }],
      secondScales: [{ slot: 'b1.1', pass: 1, chordScale: 'ionian@1' }],
    },
    parts: {
      voicings: [
        { slot: 'b1.1', pass: 1, keys: [56, 60, 63, 67] },
        { slot: 'b2.1', pass: 1, keys: [56, 61, 62], own: { over: 'Bb7', left: 3 } },
      ],
      notes: [
        { part: 'chorus', slot: 'b2.1', pass: 1, over: 'Bb7', notes: [{ onsetTicks: 0, durationTicks: 960, key: 74 }] },
        { part: 'bass', slot: 'b1.1', pass: 2, over: 'Fm7', notes: [] },
      ],
      motives: [
        {
          notes: [
            { onsetTicks: 0, durationTicks: 480, finger: 1 },
            { onsetTicks: 480, durationTicks: 480, finger: 3 },
            { onsetTicks: 1440, durationTicks: 960, finger: 2 },
          ],
        },
      ],
    },
  },
};

/** What version 4 added: nothing beside the trio, a play page of one way. Taken off before comparing with what older programs wrote. */
function withoutAids(choices: { programme?: unknown; playPage?: unknown }): void {
  expect(choices.playPage).toBe('one way');
  delete choices.playPage;
  if (choices.programme == null) return;
  const programme = choices.programme as { aids?: unknown };
  expect(programme.aids).toEqual({ restBars: 0, metronome: 'none', answers: 'none' });
  delete programme.aids;
}

/** What version 5 added: nobody spoke in a film. Taken off before comparing with what older programs wrote. */
function withoutVoices(choices: { film?: unknown }): void {
  for (const scene of (choices.film ?? []) as { voice?: unknown }[]) {
    expect(scene.voice).toBeNull();
    delete scene.voice;
  }
}

const document = { chartText: '| Fm7 | Bb7 | Ebmaj7 |\n# ♭ stays\n', choices: CHOICES, engine: ENGINE_VERSION };

/** The document as JSON with one field changed, by its path. */
function changed(path: readonly string[], value: unknown): string {
  const root = JSON.parse(writeLessonDocument(document)) as Record<string, unknown>;
  let at = root;
  for (const step of path.slice(0, -1)) at = at[step] as Record<string, unknown>;
  at[path.at(-1) as string] = value;
  return JSON.stringify(root);
}

describe('the lesson document', () => {
  test.each([
    ['everything chosen', CHOICES],
    ['nothing chosen', DEFAULT_CHOICES],
  ])('reads back what was written: %s', (_, choices) => {
    const read = readLessonDocument(writeLessonDocument({ ...document, choices }));
    expect(read).toEqual({ ok: true, value: { ...document, choices }, warnings: [] });
  });

  test.each([
    ['cut off', writeLessonDocument(document).slice(0, -20), 'lesson.not-json'],
    ['no object', '[]', 'lesson.field'],
    ['a newer version', changed(['version'], DOCUMENT_VERSION + 1), 'lesson.newer'],
    ['a seed that is none', changed(['choices', 'seed'], -1), 'lesson.field'],
    ['a key that cannot be written', changed(['choices', 'keys'], ['G# major']), 'lesson.field'],
    ['a hand that is no hand', changed(['choices', 'hand'], { spanMm: 20 }), 'lesson.field'],
    [
      'a thumb off the keyboard',
      changed(['choices', 'pins', 'plan', 'positions'], [{ slot: 'a', pass: 1, shape: 'x', thumbMidi: 200 }]),
      'lesson.field',
    ],
    [
      'notes of a part that nobody writes',
      changed(['choices', 'pins', 'parts', 'notes'], [{ part: 'drums', slot: 'a', pass: 1, over: '', notes: [] }]),
      'lesson.field',
    ],
    [
      'a voice without a hash of its sound',
      changed(
        ['choices', 'film'],
        [{ ...CHOICES.film?.[1], key: null, voice: { name: 'a.wav', hash: 'x', seconds: 1, key: 'F major' } }],
      ),
      'lesson.field',
    ],
    ['a programme nobody plays', changed(['choices', 'programme', 'choruses'], []), 'lesson.field'],
    ['a field of its own', changed(['choices', 'colour'], 'red'), 'lesson.field'],
  ])('is refused with a reason: %s', (_, text, code) => {
    const read = readLessonDocument(text);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.issues.map((issue) => issue.code)).toContain(code);
  });

  test('another engine is told before it makes other music', () => {
    const read = readLessonDocument(writeLessonDocument({ ...document, engine: ENGINE_VERSION + 1 }));
    expect(read.ok && read.warnings.map((issue) => issue.code)).toEqual(['lesson.engine']);
  });

  // fixtures: what the program of version 1 wrote
  test.each(['plain', 'full'])('a lesson of version 1 opens as it was chosen: %s', (name) => {
    const text = readFileSync(new URL(`fixtures/version-1-${name}.json`, import.meta.url), 'utf8');
    const read = readLessonDocument(text);
    if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
    expect(read.warnings.map((issue) => issue.code)).toEqual(['lesson.engine']);
    const again = JSON.parse(writeLessonDocument(read.value)) as { choices: Record<string, unknown> };
    withoutAids(again.choices);
    const { bass, curve, shownIn, comping, voicings, film, phrases, ...choices } = again.choices;
    expect(phrases).toEqual([]);
    expect(film).toBeNull();
    expect(shownIn).toBeNull();
    expect(curve).toEqual([]);
    expect([comping, voicings]).toEqual(['usual', 'rootless']);
    const { parts, ...pins } = choices['pins'] as Record<string, Record<string, unknown>>;
    expect(parts).toEqual({ voicings: [], notes: [], motives: [] });
    expect(pins['plan']?.['secondScales']).toEqual([]);
    delete pins['plan']?.['secondScales'];
    expect(bass).toEqual({ feel: null, range: 'left hand' });
    expect({ ...again, choices: { ...choices, pins }, version: 1 }).toEqual(JSON.parse(text));
  });

  // fixtures: what the program of version 2 wrote; what version 3 added is taken off before comparing
  test.each(['plain', 'full'])('a lesson of version 2 opens as it was chosen: %s', (name) => {
    const text = readFileSync(new URL(`fixtures/version-2-${name}.json`, import.meta.url), 'utf8');
    const read = readLessonDocument(text);
    if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
    expect(read.warnings.map((issue) => issue.code)).toEqual(['lesson.engine']);
    const again = JSON.parse(writeLessonDocument(read.value)) as {
      choices: {
        film?: unknown;
        phrases?: unknown;
        programme?: unknown;
        pins: { plan: { secondScales?: unknown }; parts: { notes?: unknown; motives?: unknown } };
      };
    };
    withoutAids(again.choices);
    const { plan, parts } = again.choices.pins;
    expect([plan.secondScales, parts.notes, parts.motives]).toEqual([[], [], []]);
    expect(again.choices.film).toBeNull();
    delete again.choices.film;
    delete again.choices.phrases;
    delete plan.secondScales;
    delete parts.notes;
    delete parts.motives;
    expect({ ...again, version: 2 }).toEqual(JSON.parse(text));
  });

  // fixtures: what the program of version 3 wrote; what version 4 added is taken off before comparing
  test.each(['plain', 'full'])('a lesson of version 3 opens as it was chosen: %s', (name) => {
    const text = readFileSync(new URL(`fixtures/version-3-${name}.json`, import.meta.url), 'utf8');
    const read = readLessonDocument(text);
    if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
    const again = JSON.parse(writeLessonDocument(read.value)) as {
      choices: { film?: unknown; phrases?: unknown; programme?: unknown; pins: { parts: { motives?: unknown } } };
    };
    withoutAids(again.choices);
    withoutVoices(again.choices);
    const { parts } = again.choices.pins;
    expect(parts.motives).toEqual([]);
    delete parts.motives;
    expect(again.choices.phrases).toEqual([]);
    delete again.choices.phrases;
    expect({ ...again, version: 3 }).toEqual(JSON.parse(text));
  });

  // fixtures: what the program of version 4 wrote; what version 5 added is taken off before comparing
  test.each(['plain', 'full'])('a lesson of version 4 opens as it was chosen: %s', (name) => {
    const text = readFileSync(new URL(`fixtures/version-4-${name}.json`, import.meta.url), 'utf8');
    const read = readLessonDocument(text);
    if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
    const again = JSON.parse(writeLessonDocument(read.value)) as { choices: { film?: unknown } };
    withoutVoices(again.choices);
    expect({ ...again, version: 4 }).toEqual(JSON.parse(text));
  });

  test('names the field that is wrong', () => {
    const read = readLessonDocument(changed(['choices', 'level'], 9));
    expect(read.ok ? '' : read.issues.map(messageOf).join()).toContain('choices.level');
  });
});
