/**
 * Source: MusicXML 4.0, W3C Community Final Specification, musicxml.xsd (../shared/schema), through xmllint; the
 * meaning of kinds and degrees is read from that file's documentation of kind-value and degree-alter.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  barTicksOf,
  CHORD_KINDS_BY_SYMBOL,
  DEFAULT_CHOICES,
  degree,
  formatNoteName,
  keysOfLesson,
  makeLesson,
  notesOfChord,
  pitchClass,
  pitchClassOf,
  readChart,
  readChordSymbol,
  transposeChart,
  typeset,
  usualKey,
  type Chord,
  type Meter,
  type Score,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { writeLeadSheet, writeMusicXml, type MusicXmlOptions } from '../../packages/formats/src/musicxml/index.ts';
import { tabMarksOf } from '../../packages/formats/src/diagram/index.ts';
import { packFileSteps } from '../../packages/formats/src/pack/index.ts';
import { barAt, inventedScore, keyOf, line } from '../../packages/formats/src/musicxml/invented-score.ts';

const XMLLINT = 'xmllint';
const shared = process.env['FIVESPAN_OPEN_DATA'] ?? join(import.meta.dirname, '../..', '..', 'shared');
const schema = join(shared, 'schema', 'musicxml.xsd');
const canValidate = existsSync(schema) && spawnSync(XMLLINT, ['--version']).status === 0;
const words = canValidate ? '' : ' (skipped: open data not here, or no xmllint)';

/** What xmllint has against a document; empty where it is valid. */
function complaints(xml: string): string {
  const run = spawnSync(XMLLINT, ['--nonet', '--noout', '--schema', schema, '-'], { input: xml, encoding: 'utf8' });
  return run.status === 0 ? '' : run.stderr;
}

const score = inventedScore();

describe.skipIf(!canValidate)(`the schema takes what is written${words}`, () => {
  const variants: readonly [string, MusicXmlOptions][] = [
    ['everything', {}],
    ['both hands, bare', { parts: ['right hand', 'left hand'], numerals: false, fingers: false, thumbs: false }],
    ['the study alone', { parts: ['arpeggio study'] }],
    ['the bass alone', { parts: ['left hand'], chords: false }],
    ['for engraving', { purpose: 'engraving', tempo: true }],
    ['two bars of the middle', { bars: { from: 2, to: 4 } }],
  ];
  test.each(variants)('%s', (_name, options) => expect(complaints(writeMusicXml(score, options))).toBe(''));

  const meters: readonly Meter[] = [
    { count: 3, unit: 4 },
    { count: 5, unit: 4 },
    { count: 7, unit: 8 },
    { count: 6, unit: 8 },
    { count: 12, unit: 8 },
    { count: 2, unit: 2 },
    { count: 4, unit: 2 },
  ];
  test.each(meters)('a metre of $count/$unit, key changing', (meter) => {
    const length = barTicksOf(meter);
    const bars = [
      barAt(1, 0, keyOf('F# minor'), { meter, durationTicks: length, section: 'Intro <1>' }),
      barAt(2, length, keyOf('Db major'), { meter, durationTicks: length, section: 'A & B' }),
    ];
    const notes = line(`F#4:${length / 2}:1 Db4:${length}:2`);
    const staves = [{ role: 'right hand' as const, clef: 'treble' as const, notes }];
    const odd: Score = { ...score, title: '', feel: 'even', meter, bars, staves, chords: [], thumbs: [] };
    expect(complaints(writeMusicXml(odd))).toBe('');
  });

  // charts of our own, with everything a lead sheet can say
  test.each([
    ['plain', 'Fm7 | Bb7 | Ebmaj7 | N.C.'],
    ['repeats and endings', 'title: A & B <c>\nA:\n|: Fm7 | Bb7 | 1. Ebmaj7 :| 2. Ebmaj7 | Am7b5 D7alt |'],
    ['a count', 'B:\n|: C7(b9,b13) / F7(#11) / :|x4 G13sus |'],
    [
      'pickup, metres, keys',
      'key: Ab major\nmeter: 3/4\npickup: 1\nEb7 | Abmaj7 | 6/8 Db6/9 |\nkey: F minor\n| Gm7b5 / | Fm(maj9) |',
    ],
    ['D.S. al coda', 'A:\n| segno C | F to coda | G7 D.S. al coda |\nB:\n| coda C6/9 |'],
    ['D.C. al fine', 'tempo: 96\nfeel: even\n| C | F fine | G7 D.C. al fine |'],
  ])('a chart as a lead sheet: %s', (_name, text) => {
    const read = readChart(text);
    if (!read.ok) throw new Error(JSON.stringify(read.issues));
    expect(complaints(writeLeadSheet(read.value))).toBe('');
  });

  test('and refuses what is not MusicXML', () => {
    expect(complaints(writeMusicXml(score).replace('<divisions>', '<division>'))).not.toBe('');
  });
});

describe('whole lessons', () => {
  const examples = join(import.meta.dirname, '../..', 'examples');
  const files = readdirSync(examples).filter((file) => file.endsWith('.chart'));

  test.each(files)(
    '%s, its own key and a tritone away: valid, every bar of every staff full, every thumb with its shape’s sign',
    async (file) => {
      const read = readChart(readFileSync(join(examples, file), 'utf8'));
      if (!read.ok) throw new Error(JSON.stringify(read.issues));
      const choices = { ...DEFAULT_CHOICES, seed: 7, level: 3 } as const;
      const [home] = keysOfLesson(read.value, choices);
      if (home === undefined) throw new Error('a chart has a key');
      const away = usualKey(pitchClass(pitchClassOf(home.tonic) + 6), home.mode);
      for (const chart of [read.value, transposeChart(read.value, away, home)]) {
        const lesson = makeLesson(chart, choices);
        const made = packFileSteps('lesson.musicxml', lesson, 'a4', null).next();
        if (made.done !== true) throw new Error('written at one go');
        const xml = new TextDecoder().decode(await made.value);
        if (canValidate) expect(complaints(xml)).toBe('');
        const marks = tabMarksOf(lesson);
        expect([...xml.matchAll(/<words enclosure="rectangle"[^>]*>([^<]*)</gu)].map(([, tab]) => tab)).toEqual(
          lesson.score.thumbs.map(({ thumb }, index) => typeset(formatNoteName(thumb)) + marks[index]),
        );
        const lengths = lesson.score.bars.map((bar) => bar.durationTicks);
        const measures = [...xml.matchAll(/<measure\b[\s\S]*?<\/measure>/gu)].map(([measure]) => measure);
        expect(measures).toHaveLength(lengths.length * 3);
        for (const [index, measure] of measures.entries()) {
          for (const staff of measure.split('<backup>')) {
            const notes = staff.matchAll(/<note>(?!\s*<chord\/>)[\s\S]*?<duration>(\d+)</gu);
            const filled = [...notes].reduce((sum, [, duration]) => sum + Number(duration), 0);
            expect(filled).toBe(lengths[index % lengths.length]);
          }
        }
      }
    },
  );
});

/** Semitones of the kinds, as musicxml.xsd describes each: 'dominant-ninth (dominant-seventh, major ninth)'. */
const TRIAD = { major: [0, 4, 7], minor: [0, 3, 7], augmented: [0, 4, 8], diminished: [0, 3, 6] } as const;
const STANDARD: Readonly<Record<string, readonly number[]>> = {
  ...TRIAD,
  dominant: [...TRIAD.major, 10],
  'major-seventh': [...TRIAD.major, 11],
  'minor-seventh': [...TRIAD.minor, 10],
  'diminished-seventh': [...TRIAD.diminished, 9],
  'augmented-seventh': [...TRIAD.augmented, 10],
  'half-diminished': [...TRIAD.diminished, 10],
  'major-minor': [...TRIAD.minor, 11],
  'major-sixth': [...TRIAD.major, 9],
  'minor-sixth': [...TRIAD.minor, 9],
  'dominant-ninth': [...TRIAD.major, 10, 2],
  'major-ninth': [...TRIAD.major, 11, 2],
  'minor-ninth': [...TRIAD.minor, 10, 2],
  'dominant-11th': [...TRIAD.major, 10, 2, 5],
  'major-11th': [...TRIAD.major, 11, 2, 5],
  'minor-11th': [...TRIAD.minor, 10, 2, 5],
  // over a major third without the 11th, as played (common practice); the standard stacks it
  'dominant-13th': [...TRIAD.major, 10, 2, 9],
  'major-13th': [...TRIAD.major, 11, 2, 9],
  'minor-13th': [...TRIAD.minor, 10, 2, 5, 9],
  'suspended-second': [0, 2, 7],
  'suspended-fourth': [0, 5, 7],
  power: [0, 7],
};

/** Degrees against a dominant chord: major and perfect, the seventh minor (degree-alter). */
const DOMINANT_SCALE: Readonly<Record<number, number>> = {
  1: 0,
  2: 2,
  3: 4,
  4: 5,
  5: 7,
  6: 9,
  7: 10,
  9: 2,
  11: 5,
  13: 9,
};

/** Pitch classes above the root that a harmony element says, read by the standard and nothing of ours. */
function readHarmony(xml: string): number[] {
  const kind = /<kind[^>]*>([^<]*)<\/kind>/u.exec(xml)?.[1] ?? '';
  const notes = [...(STANDARD[kind] ?? [])];
  for (const [, value = '', alter = '', type = ''] of xml.matchAll(
    /<degree-value>(\d+)<\/degree-value>\s*<degree-alter>(-?\d+)<\/degree-alter>\s*<degree-type[^>]*>(\w+)</gu,
  )) {
    const natural = DOMINANT_SCALE[Number(value)] ?? 0;
    if (type === 'add') notes.push((natural + Number(alter) + 12) % 12);
    // a subtracted or altered degree is the one the kind has on that letter: at most a semitone or two from the natural
    const index = notes.findIndex((note) => Math.abs(note - natural) <= (Number(value) === 5 ? 1 : 2));
    if (type === 'subtract') notes.splice(index, 1);
    if (type === 'alter') notes[index] = ((notes[index] ?? 0) + Number(alter) + 12) % 12;
  }
  return [...new Set(notes)].sort((a, b) => a - b);
}

// the kind that a reader of the standard would choose
const SYMBOLS: readonly (readonly [string, string])[] = [
  ['', 'major'],
  ['m', 'minor'],
  ['5', 'power'],
  ['+', 'augmented'],
  ['dim', 'diminished'],
  ['dim7', 'diminished-seventh'],
  ['6', 'major-sixth'],
  ['6/9', 'major-sixth'],
  ['m6/9', 'minor-sixth'],
  ['(add9)', 'major'],
  ['7', 'dominant'],
  ['9', 'dominant-ninth'],
  ['13', 'dominant-13th'],
  ['7(b9)', 'dominant'],
  ['7(#9,b13)', 'dominant'],
  ['7(b9,13)', 'dominant'],
  ['9(#11)', 'dominant-ninth'],
  ['7(b5)', 'dominant'],
  ['+7', 'augmented-seventh'],
  ['7alt', 'dominant'],
  ['maj7', 'major-seventh'],
  ['maj7(#11)', 'major-seventh'],
  ['+maj7', 'major-seventh'],
  ['maj13', 'major-13th'],
  ['m7', 'minor-seventh'],
  ['m11', 'minor-11th'],
  ['m13', 'minor-13th'],
  ['m7b5', 'half-diminished'],
  ['m(maj7)', 'major-minor'],
  ['m(maj9)', 'major-minor'],
  ['dim(maj7)', 'diminished'],
  ['sus', 'suspended-fourth'],
  ['sus2', 'suspended-second'],
  ['7sus', 'suspended-fourth'],
  ['13sus', 'suspended-fourth'],
  ['7sus(b9)', 'suspended-fourth'],
];

function readChord(symbol: string): Chord {
  const read = readChordSymbol(symbol);
  if (!read.ok || read.value.kind !== 'chord') throw new TypeError(symbol);
  return read.value;
}

/** Pitch classes above the root; the fifth that gives way to a b13 is one the kind still names (common practice). */
function soundOf(chord: Chord): number[] {
  const own = notesOfChord(chord).map((note) => (pitchClassOf(note) - pitchClassOf(chord.root) + 12) % 12);
  if (chord.degrees.includes(degree('b13'))) own.push(7);
  return [...new Set(own)].sort((a, b) => a - b);
}

describe('a symbol says its kind and degrees exactly', () => {
  const withChord = (chord: Chord): Score => ({ ...score, chords: [{ startTicks: 0, chord, numeral: 'I' }] });
  const harmonyOf = (chord: Chord): string =>
    /<harmony placement="above">[\s\S]*?<\/harmony>/u.exec(writeMusicXml(withChord(chord)))?.[0] ?? '';

  test.each(SYMBOLS)('%s', (suffix, kind) => {
    const chord = readChord(`Bb${suffix}/D`);
    const harmony = harmonyOf(chord);
    expect(/<kind[^>]*>([^<]*)</u.exec(harmony)?.[1]).toBe(kind);
    expect(readHarmony(harmony)).toEqual(soundOf(chord));
    expect(harmony).toMatch(/<root-step>B<\/root-step>\s*<root-alter>-1</u);
    expect(harmony).toMatch(/<bass-step>D</u);
    if (canValidate) expect(complaints(writeMusicXml(withChord(chord)))).toBe('');
  });

  test.each(CHORD_KINDS_BY_SYMBOL.map((each) => each.suffix))('every kind of the table: %s', (suffix) => {
    const chord = readChord(`F#${suffix}`);
    expect(readHarmony(harmonyOf(chord))).toEqual(soundOf(chord));
  });

  test('degrees in parentheses are printed as degrees, others stand in the text', () => {
    const printed = writeMusicXml(withChord(readChord('B7(b9,b13)')));
    expect(printed).toContain('<kind text="7" parentheses-degrees="yes">dominant</kind>');
    const inText = writeMusicXml(withChord(readChord('B7alt')));
    expect(inText).toContain('<kind text="7alt">dominant</kind>');
    expect(inText).toContain('<degree print-object="no">');
  });
});

describe('the score is all there', () => {
  const xml = writeMusicXml(score);
  const measures = [...xml.matchAll(/<measure\b[\s\S]*?<\/measure>/gu)].map(([measure]) => measure);

  test('every staff fills every bar: durations and backups add up', () => {
    const pickup = /implicit="yes"/u;
    for (const measure of measures) {
      const length = pickup.test(measure) ? 960 : 3840;
      const staves = measure.split('<backup>');
      for (const staff of staves) {
        const durations = [...staff.matchAll(/<note>(?!\s*<chord\/>)[\s\S]*?<duration>(\d+)</gu)].map(([, each]) =>
          Number(each),
        );
        expect(durations.reduce((sum, each) => sum + each, 0)).toBe(length);
      }
      for (const [, back] of measure.matchAll(/<backup>\s*<duration>(\d+)</gu)) expect(Number(back)).toBe(length);
    }
  });

  test('ties pair up, fingers are all written once', () => {
    expect([...xml.matchAll(/<tie type="start"\/>/gu)]).toHaveLength([...xml.matchAll(/<tie type="stop"\/>/gu)].length);
    const fingers = score.staves.flatMap((staff) => staff.notes).filter((note) => note.finger !== null);
    expect([...xml.matchAll(/<fingering\b/gu)]).toHaveLength(fingers.length);
  });

  test('symbols, numerals and thumbs once each; two parts; a final bar line', () => {
    expect([...xml.matchAll(/<harmony placement="above">/gu)]).toHaveLength(score.chords.length);
    const numerals = [...xml.matchAll(/<numeral-root text="([^"]*)"/gu)].map(([, text]) => text);
    expect(numerals).toEqual(['iim7', 'V7(♭9)', 'V7alt', 'Imaj7(♯11)', 'iim7♭5', 'subV7/IV', 'I']);
    const thumbs = [...xml.matchAll(/<words enclosure="rectangle"[^>]*>([^<]*)</gu)].map(([, text]) => text);
    expect(thumbs).toEqual(['F', 'D', 'G♯']);
    expect([...xml.matchAll(/<part-name>([^<]*)</gu)].map(([, name]) => name)).toEqual(['Piano', 'Arpeggio study']);
    expect([...xml.matchAll(/light-heavy/gu)]).toHaveLength(2);
  });

  test('twice the same bytes; text that could be markup is escaped', () => {
    expect(writeMusicXml(inventedScore())).toBe(xml);
    expect(xml).toContain('<work-title>Lantern &amp; Ferry “Öse”</work-title>');
  });

  test('overlapping notes of one staff are refused by name', () => {
    const staves = [
      { role: 'right hand' as const, clef: 'treble' as const, notes: [...line('C4:960'), ...line('E4:960', 480)] },
    ];
    expect(() => writeMusicXml({ ...score, staves })).toThrow(/E4 at 480/u);
  });
});
