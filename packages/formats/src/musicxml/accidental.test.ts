import { expect, test } from 'vitest';
import { accidentalMemory, alterInKey } from './accidental.ts';
import { keyOf, pitchOf } from './invented-score.ts';

/** Accidentals of a line: bars between `|`, `~` before a note tied from the bar before. */
function written(key: string, bars: string): string {
  const memory = accidentalMemory();
  return bars
    .split('|')
    .map((bar) => {
      memory.startBar(keyOf(key));
      return bar
        .trim()
        .split(/\s+/u)
        .map((note) => {
          const accidental = memory.next(pitchOf(note.replace('~', '')), note.startsWith('~'));
          return accidental === undefined ? '-' : accidental.name + (accidental.isCautionary ? '?' : '');
        })
        .join(' ');
    })
    .join(' | ');
}

// common practice
test.each([
  ['notes of the key need none', 'Eb major', 'Eb4 F4 G4 Ab4 Bb4', '- - - - -'],
  ['an accidental holds to the bar line', 'Eb major', 'E4 E4 | Eb4', 'natural - | flat?'],
  ['and is taken back inside it', 'Eb major', 'E4 Eb4', 'natural flat'],
  ['another octave is another line, and is reminded', 'C major', 'F#4 F5', 'sharp natural?'],
  ['a note tied over the bar line needs none, its repeat does', 'C major', 'F#4 | ~F#4 F#4', 'sharp | - sharp'],
  ['a white key that is a flat', 'Eb major', 'Cb5 C5', 'flat natural'],
  ['double accidentals', 'G# minor', 'F##4 F#4', 'double-sharp sharp'],
  ['a key in seven flats', 'Ab minor', 'Fb4 Cb4 F4', '- - natural'],
])('%s', (_name, key, bars, expected) => expect(written(key, bars)).toBe(expected));

test('what the signature does to each letter, by the order of sharps and flats', () => {
  const altered = (key: string): string => Array.from('CDEFGAB', (letter) => alterInKey(keyOf(key), letter)).join(' ');
  expect(altered('C major')).toBe('0 0 0 0 0 0 0');
  expect(altered('D major')).toBe('1 0 0 1 0 0 0');
  expect(altered('Eb major')).toBe('0 0 -1 0 0 -1 -1');
  expect(altered('C# major')).toBe('1 1 1 1 1 1 1');
  expect(altered('Cb major')).toBe('-1 -1 -1 -1 -1 -1 -1');
});
