/**
 * Avoid notes and tensions of every chord-scale.
 * Source: docs/sources.md, 6: the definition quoted there (Nettles, 'Harmony 3', p. 15, R), the pages named
 * beside it (R), values computed from the half-step rule (C), from memory (M). Each row carries its mark.
 */
import { describe, expect, test } from 'vitest';
import {
  accidentalsOf,
  chordScalesFor,
  degree,
  degreeAbove,
  formatDegree,
  formatNoteName,
  noteAbove,
  noteName,
  pitchClassOf,
  readChordSymbol,
  semitonesOf,
  spellingsOf,
  usualKeys,
  type Chord,
  type ChordScale,
  type Key,
  type NoteName,
  type Reading,
  type Role,
} from '@fivespan/core';

/** The root as it is written: Bbb7, the substitute in Ab major, is A7. */
const plainly = (root: NoteName): NoteName =>
  Math.abs(accidentalsOf(root)) < 2 ? root : (spellingsOf(pitchClassOf(root), 1)[0] as NoteName);

const chordOn = (root: NoteName, suffix: string): Chord => {
  const read = readChordSymbol(formatNoteName(root) + suffix);
  if (!read.ok || read.value.kind !== 'chord') throw new Error(`no chord: ${formatNoteName(root)}${suffix}`);
  return read.value;
};

const readingOf = (
  key: Key,
  role: Role,
  target: NoteName | null = null,
  targetMode: Key['mode'] | null = null,
): Reading => ({
  key,
  numeral: '',
  role,
  reason: { code: '', args: {} },
  target,
  targetMode,
});

/** Scale id, its chord, the key's mode, the chord's place in the key, its role; avoid; tensions; mark. */
const TABLE: readonly (readonly [
  scale: string,
  chord: string,
  mode: Key['mode'],
  place: string,
  role: Role,
  avoid: string,
  tensions: string,
  mark: string,
])[] = [
  ['ionian', 'maj7', 'major', '1', 'tonic', '4', '9 13', 'R'],
  // 6 contextual, 13 in brackets: on a ii it is an avoid note …
  ['dorian', 'm7', 'major', '2', 'predominant', '6', '9 11', 'R'],
  ['dorian', 'm7', 'major', '4', 'backdoor predominant', '6', '9 11', 'R'],
  // … elsewhere a tension
  ['dorian', 'm7', 'minor', '4', 'predominant', '', '9 11 13', 'R'],
  ['dorian', 'm7', 'minor', '1', 'tonic', '', '9 11 13', 'R'],
  ['phrygian', 'm7', 'major', '3', 'tonic', 'b2 b6', '11', 'R'],
  ['lydian', 'maj7', 'major', '4', 'predominant', '', '9 #11 13', 'R'],
  ['mixolydian', '7', 'major', '5', 'dominant', '4', '9 13', 'R'],
  ['aeolian', 'm7', 'major', '6', 'tonic', 'b6', '9 11', 'R'],
  ['locrian', 'm7b5', 'major', '7', 'unexplained', 'b2', '11 b13', 'R'],
  ['melodic-minor', 'm(maj7)', 'minor', '1', 'tonic', '', '9 11 13', 'R'],
  ['dorian-b2', 'm7', 'major', '1', 'borrowed', 'b2', '11 13', 'R'],
  ['lydian-augmented', '+maj7', 'minor', 'b3', 'tonic', '6', '9 #11', 'R'],
  ['lydian-b7', '7', 'major', 'b7', 'backdoor dominant', '', '9 #11 13', 'R'],
  ['lydian-b7', '7', 'major', '4', 'predominant', '', '9 #11 13', 'R'],
  ['lydian-b7', '7', 'major', 'b2', 'substitute dominant', '', '9 #11 13', 'R'],
  ['mixolydian-b13', '7', 'major', '6', 'applied dominant', '4', '9 b13', 'R tensions, C avoid'],
  ['locrian-natural-2', 'm7b5', 'minor', '2', 'predominant', '', '9 11 b13', 'C'],
  ['altered', '7alt', 'minor', '5', 'dominant', '', 'b9 #9 #11 b13', 'R'],
  ['altered', '7', 'major', '5', 'dominant', '', 'b9 #9 #11 b13', 'R'],
  ['mixolydian-b9-s9-b13', '7', 'major', '7', 'applied dominant', '4', 'b9 #9 b13', 'R tensions, M avoid'],
  ['mixolydian-b9-s9-b13', '7', 'major', '3', 'applied dominant', '4', 'b9 #9 b13', 'R tensions, M avoid'],
  ['half-whole', '7', 'major', '5', 'dominant', '', 'b9 #9 #11 13', 'R'],
  ['whole-tone', '+7', 'major', '5', 'dominant', '', '9 #11', 'M'],
];

/** Degrees over the chord by sound, in the table's spelling. */
const overChord = (chord: Chord, notes: readonly NoteName[], listed: string): string[] => {
  const named = listed === '' ? [] : listed.split(' ');
  return notes
    .map((note) => {
      const semitones = semitonesOf(degreeAbove(chord.root, note));
      return (
        named.find((each) => semitonesOf(degree(each)) === semitones) ?? formatDegree(degreeAbove(chord.root, note))
      );
    })
    .sort((a, b) => named.indexOf(a) - named.indexOf(b));
};

const words = (text: string): string[] => (text === '' ? [] : text.split(' '));

const onLadder = (chord: Chord, reading: Reading, id: string): ChordScale => {
  const found = chordScalesFor(chord, reading).find((each) => each.id === `${id}@1`);
  if (found === undefined) throw new Error(`no ${id} on the ladder of ${chord.symbol}`);
  return found;
};

describe('avoid notes and tensions, in all twelve keys', () => {
  test.each(TABLE)('%s over %s (%s, on %s, %s): avoid %s; tensions %s (%s)', (...row) => {
    const [scale, suffix, mode, place, role, avoid, tensions] = row;
    for (const key of usualKeys(mode)) {
      const chord = chordOn(plainly(noteAbove(key.tonic, degree(place))), suffix);
      const chordScale = onLadder(chord, readingOf(key, role), scale);
      expect(
        overChord(
          chord,
          chordScale.avoid.map((each) => each.note),
          avoid,
        ),
      ).toEqual(words(avoid));
      expect(overChord(chord, chordScale.tensions, tensions)).toEqual(words(tensions));
    }
  });
});

const shown = (chord: Chord, reading: Reading, id: string): string[] =>
  onLadder(chord, reading, id).avoid.map(
    ({ note, resolvesTo }) =>
      `${formatNoteName(note)} to ${resolvesTo.map((each) => `${formatNoteName(each.note)} ${each.semitones}`).join(', ')}`,
  );

describe('resolutions (the rule: by step to a chord tone, nearest first; common practice)', () => {
  const C_MAJOR: Key = { tonic: noteName('C'), mode: 'major' };
  const C_MINOR: Key = { tonic: noteName('C'), mode: 'minor' };
  test('the 4 over a tonic major chord goes to 3, a half step down', () => {
    expect(shown(chordOn(noteName('C'), 'maj7'), readingOf(C_MAJOR, 'tonic'), 'ionian')).toEqual(['F to E -1, G 2']);
  });
  test('Dorian’s 6 goes up to b7 or down to 5', () => {
    expect(shown(chordOn(noteName('D'), 'm7'), readingOf(C_MAJOR, 'predominant'), 'dorian')).toEqual([
      'B to C 1, A -2',
    ]);
  });
  test('Phrygian’s b2 to 1 or b3, its b6 to 5 or b7', () => {
    expect(shown(chordOn(noteName('E'), 'm7'), readingOf(C_MAJOR, 'tonic'), 'phrygian')).toEqual([
      'F to E -1, G 2',
      'C to B -1, D 2',
    ]);
  });
  test('the 4 over a dominant goes to 3 or 5', () => {
    expect(shown(chordOn(noteName('G'), '7'), readingOf(C_MAJOR, 'dominant'), 'mixolydian')).toEqual([
      'C to B -1, D 2',
    ]);
    expect(shown(chordOn(noteName('G'), '7'), readingOf(C_MINOR, 'dominant'), 'mixolydian-b9-b13')).toEqual([
      'C to B -1, D 2',
    ]);
  });
});

describe('what a chord writes is never an avoid note of it (common practice)', () => {
  test('the b9 of a sus chord', () => {
    const key: Key = { tonic: noteName('C'), mode: 'major' };
    const chord = chordOn(noteName('G'), '7sus(b9)');
    const [first] = chordScalesFor(chord, readingOf(key, 'dominant'));
    expect(first?.avoid.map((each) => pitchClassOf(each.note))).not.toContain(pitchClassOf(noteName('Ab')));
  });
});

/** Semitones over the chord of what is a half step above a chord tone, without any exception. */
const byRule = (chord: Chord, chordScale: ChordScale): Set<number> => {
  const tones = new Set(chordScale.chordTones.map(pitchClassOf));
  const rubs = chordScale.notes.filter((note) => {
    const sounding = pitchClassOf(note);
    return !tones.has(sounding) && [...tones].some((tone) => (tone + 1) % 12 === sounding);
  });
  return new Set(rubs.map((note) => semitonesOf(degreeAbove(chord.root, note))));
};

describe('the half-step rule alone reproduces every R cell but Dorian’s 6; on dominants it also flags b13 and b9 (C)', () => {
  test.each(TABLE.filter((row) => row[7].startsWith('R')))('%s over %s (%s, on %s, %s)', (...row) => {
    const [scale, suffix, mode, place, role, avoid] = row;
    const key = usualKeys(mode)[0] as Key;
    const chord = chordOn(plainly(noteAbove(key.tonic, degree(place))), suffix);
    const expected = new Set(words(avoid).map((each) => semitonesOf(degree(each))));
    if (scale === 'dorian' && role.endsWith('predominant')) expected.delete(semitonesOf(degree('6')));
    const found = byRule(chord, onLadder(chord, readingOf(key, role), scale));
    if (chord.quality === 'dominant') for (const exempt of [1, 3, 6, 8]) found.delete(exempt);
    expect(found).toEqual(expected);
  });
});

describe('extensions by quality of chord (Terefenko, chapter 9780203380000-13: R abstract, author M)', () => {
  const EXTENSIONS: readonly (readonly [
    suffix: string,
    mode: Key['mode'],
    place: string,
    role: Role,
    extensions: string,
  ])[] = [
    ['7', 'major', '5', 'dominant', '9 13 b9 #9 #11 b13'],
    ['maj7', 'major', '1', 'tonic', '9 13 #11'],
    ['m7', 'minor', '1', 'tonic', '9 11 13'],
    ['m7b5', 'minor', '2', 'predominant', '9 11 b13'],
    ['dim7', 'minor', '7', 'dominant', '9 11 b13'],
  ];
  /** What a half step above a chord tone makes of each: never an extension, whatever the scale (the half-step rule, C). */
  const NEVER: Readonly<Record<string, string>> = { '7': '4', maj7: '4', m7: 'b9', m7b5: 'b9', dim7: 'b9' };

  test.each(EXTENSIONS)('%s (%s, on %s, %s): %s', (suffix, mode, place, role, extensions) => {
    for (const key of usualKeys(mode)) {
      const chord = chordOn(plainly(noteAbove(key.tonic, degree(place))), suffix);
      const holding = chordScalesFor(chord, readingOf(key, role)).filter((each) => each.missing.length === 0);
      const tensions = new Set(
        holding.flatMap((each) => each.tensions.map((note) => semitonesOf(degreeAbove(chord.root, note)))),
      );
      for (const each of extensions.split(' ')) expect(tensions, each).toContain(semitonesOf(degree(each)));
      expect(tensions).not.toContain(semitonesOf(degree(NEVER[suffix] as string)));
    }
  });
});
