import { describe, expect, test } from 'vitest';
import {
  formatKey,
  notesOfKey,
  parseKey,
  relativeKey,
  setOfKey,
  signatureOf,
  usualKey,
  usualKeys,
  type Key,
} from './key.ts';
import { accidentalsOf, formatNoteName, pitchClass, pitchClassOf } from './note-name.ts';
import { sizeOf } from './pitch-class-set.ts';

/** Key signatures, flats negative: the circle of fifths, common practice. */
const SIGNATURES = {
  major: 'Cb Gb Db Ab Eb Bb F C G D A E B F# C#'.split(' '),
  minor: 'Ab Eb Bb F C G D A E B F# C# G# D# A#'.split(' '),
};

describe('keys', () => {
  test('the thirty keys that can be written have the signatures of the circle of fifths', () => {
    for (const mode of ['major', 'minor'] as const) {
      for (const [index, tonic] of SIGNATURES[mode].entries()) {
        const key = parseKey(`${tonic} ${mode}`) as Key;
        expect(signatureOf(key)).toBe(index - 7);
        expect(formatKey(key)).toBe(`${tonic} ${mode}`);
        expect(parseKey(formatKey(key))).toEqual(key);
        expect(relativeKey(relativeKey(key))).toEqual(key);
        expect(signatureOf(relativeKey(key))).toBe(signatureOf(key));
        // a signature is what its notes need: the major key has all its accidentals, minor adds raised 6 and 7
        const notes = notesOfKey(key);
        const accidentals = notes.slice(0, 7).reduce((sum, note) => sum + accidentalsOf(note), 0);
        if (mode === 'major') expect(accidentals).toBe(signatureOf(key));
        expect(sizeOf(setOfKey(key))).toBe(mode === 'major' ? 7 : 9);
      }
    }
  });

  test('minor holds natural, harmonic and melodic minor', () => {
    expect(
      notesOfKey(parseKey('C minor') as Key)
        .map(formatNoteName)
        .join(' '),
    ).toBe('C D Eb F G Ab A Bb B');
  });

  test.each([
    ['Eb', 'Eb major'],
    ['F#m', 'F# minor'],
    ['Bb min', 'Bb minor'],
    ['C-', 'C minor'],
    ['A maj', 'A major'],
    ['Ab Major', 'Ab major'],
    ['G Minor', 'G minor'],
    ['DM', 'D major'],
    [' D♭ major ', 'Db major'],
  ])("'%s' is read as %s", (text, expected) => {
    expect(formatKey(parseKey(text) as Key)).toBe(expected);
  });

  test.each(['', 'H', 'Fb major', 'D# major', 'Db minor', 'G# major', 'C dorian', 'e minor'])(
    "'%s' is no key that can be written",
    (text) => expect(parseKey(text)).toBeUndefined(),
  );

  test('the usual keys are those of the design, one on each pitch class', () => {
    expect(usualKeys('major').map(formatKey).join(', ')).toBe(
      'C F Bb Eb Ab Db Gb B E A D G'
        .split(' ')
        .map((each) => `${each} major`)
        .join(', '),
    );
    expect(usualKeys('minor').map(formatKey).join(', ')).toBe(
      'C F Bb Eb G# C# F# B E A D G'
        .split(' ')
        .map((each) => `${each} minor`)
        .join(', '),
    );
    for (let value = 0; value < 12; value++) {
      expect(pitchClassOf(usualKey(pitchClass(value), 'minor').tonic)).toBe(value);
    }
  });
});
