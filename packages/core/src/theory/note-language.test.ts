import { describe, expect, test } from 'vitest';
import { noteTextIn, NOTE_LANGUAGES } from './note-language.ts';
import { formatNoteName, HIGHEST_FIFTHS, LOWEST_FIFTHS, noteName, noteNameFromFifths } from './note-name.ts';
import { typeset } from './typeset.ts';

const ALL = Array.from({ length: HIGHEST_FIFTHS - LOWEST_FIFTHS + 1 }, (_, index) =>
  noteNameFromFifths(LOWEST_FIFTHS + index),
);

/** R: LilyPond, ly/deutsch.ly (version 1.7.3): the names in the order of the letters C to B, double flat to double sharp. */
const DEUTSCH = [
  'ceses ces c cis cisis',
  'deses des d dis disis',
  'eses es e eis eisis',
  'feses fes f fis fisis',
  'geses ges g gis gisis',
  'asas as a ais aisis',
  'heses b h his hisis',
];

/** R: LilyPond, ly/italiano.ly (version 1.9.8): b is flat, d is sharp. */
const ITALIANO = [
  'dobb dob do dod dodd',
  'rebb reb re red redd',
  'mibb mib mi mid midd',
  'fabb fab fa fad fadd',
  'solbb solb sol sold soldd',
  'labb lab la lad ladd',
  'sibb sib si sid sidd',
];

const LETTERS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
const SIGNS = ['bb', 'b', '', '#', '##'];

const rows = (table: readonly string[]): (readonly [string, string])[] =>
  table.flatMap((row, step) => row.split(' ').map((name, place) => [`${LETTERS[step]}${SIGNS[place]}`, name] as const));

describe('names of notes', () => {
  test.each(rows(DEUTSCH))('%s is German %s', (english, german) => {
    expect(noteTextIn('german', noteName(english)).toLowerCase()).toBe(german);
  });

  test.each(rows(ITALIANO))('%s is Italian %s', (english, italian) => {
    const text = noteTextIn('do re mi', noteName(english)).toLowerCase();
    expect(text).toBe(
      italian.replace(/(?<=^(do|re|mi|fa|sol|la|si))[bd]+$/u, (each) =>
        each.replace('bb', '𝄫').replace('dd', '𝄪').replace('b', '♭').replace('d', '♯'),
      ),
    );
  });

  test('English names are those of chord symbols, with printed signs', () => {
    for (const name of ALL) expect(noteTextIn('english', name)).toBe(typeset(formatNoteName(name)));
  });

  test('no two notes share a name in any language', () => {
    for (const language of NOTE_LANGUAGES) {
      expect(new Set(ALL.map((name) => noteTextIn(language, name))).size).toBe(ALL.length);
    }
  });
});
