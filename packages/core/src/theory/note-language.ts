import { accidentalsOf, letterOf, type NoteName } from './note-name.ts';

/** How notes are called: by letters, by letters with H and B and endings, by syllables. Chord symbols are letters everywhere. */
export const NOTE_LANGUAGES = ['english', 'german', 'do re mi'] as const;
export type NoteLanguage = (typeof NOTE_LANGUAGES)[number];

/** Syllables by letter. Source: LilyPond, ly/italiano.ly (do re mi fa sol la si). */
const SYLLABLES: Readonly<Record<string, string>> = {
  C: 'Do',
  D: 'Re',
  E: 'Mi',
  F: 'Fa',
  G: 'Sol',
  A: 'La',
  B: 'Si',
};

/**
 * German names: -is a sharp, -es a flat; E and A take -s and drop the doubled vowel (Es, Eses, As, Asas), B natural is H and
 * B flat is B, but its double flat Heses. Source: LilyPond, ly/deutsch.ly.
 */
function germanText(name: NoteName): string {
  const accidentals = accidentalsOf(name);
  const letter = letterOf(name) === 'B' ? 'H' : letterOf(name);
  if (accidentals >= 0) return letter + 'is'.repeat(accidentals);
  if (letter === 'H' && accidentals === -1) return 'B';
  if (letter === 'A') return accidentals === -1 ? 'As' : 'Asas';
  if (letter === 'E') return accidentals === -1 ? 'Es' : 'Eses';
  return letter + 'es'.repeat(-accidentals);
}

/** From two flats to two sharps: a name has no more (note-name.ts). */
const SIGNS = ['𝄫', '♭', '', '♯', '𝄪'] as const;

const signs = (accidentals: number): string => SIGNS[accidentals + 2] ?? '';

/**
 * A note's name as it is said and printed in a language.
 * @example noteTextIn('german', noteName('Bb')) // → 'B'
 * @example noteTextIn('do re mi', noteName('F#')) // → 'Fa♯'
 */
export function noteTextIn(language: NoteLanguage, name: NoteName): string {
  switch (language) {
    case 'english':
      return letterOf(name) + signs(accidentalsOf(name));
    case 'german':
      return germanText(name);
    case 'do re mi':
      return SYLLABLES[letterOf(name)] + signs(accidentalsOf(name));
  }
}
