/** Music as a screen reader should say it: signs and symbols in words. English; another language is another file of this shape. */
import { formatNoteName, readChordSymbol, typeset, type ChordSymbol, type NoteName } from '@fivespan/core';

const NUMBERS: Readonly<Record<string, string>> = {
  2: 'two',
  4: 'four',
  5: 'five',
  6: 'six',
  7: 'seven',
  9: 'nine',
  11: 'eleven',
  13: 'thirteen',
  69: 'six nine',
};

/** What stands after a chord's root, sign by sign; the longer ones first. */
const SUFFIX_WORDS: readonly (readonly [RegExp, string])[] = [
  [/^maj/u, 'major'],
  [/^min/u, 'minor'],
  [/^m/u, 'minor'],
  [/^M/u, 'major'],
  [/^dim|^o|^°/u, 'diminished'],
  [/^ø/u, 'half-diminished'],
  [/^aug|^\+/u, 'augmented'],
  [/^sus/u, 'suspended'],
  [/^alt/u, 'altered'],
  [/^add/u, 'add'],
  [/^omit|^no/u, 'without'],
  [/^b|^♭/u, 'flat'],
  [/^#|^♯/u, 'sharp'],
];

/**
 * What stands after a chord's root, or a numeral's degree.
 * @example spokenSuffix('maj7(#11)') // → 'major seven sharp eleven'
 */
export function spokenSuffix(suffix: string): string {
  const spoken: string[] = [];
  let rest = suffix;
  while (rest !== '') {
    const number = /^\d+/u.exec(rest)?.[0];
    const [found, word] = SUFFIX_WORDS.find(([sign]) => sign.test(rest)) ?? [];
    if (number !== undefined) {
      spoken.push(NUMBERS[number] ?? number);
      rest = rest.slice(number.length);
    } else if (found !== undefined && word !== undefined) {
      spoken.push(word);
      rest = rest.replace(found, '');
    } else rest = rest.slice(1);
  }
  return spoken.join(' ');
}

/**
 * A text with printed accidentals, said: `E♭` is E flat.
 * @example spokenSigns('E♭ major, ♯11') // → 'E flat major, sharp 11'
 */
export function spokenSigns(text: string): string {
  return text
    .replaceAll(/([A-Za-z])𝄫/gu, '$1 double flat')
    .replaceAll(/([A-Za-z])𝄪/gu, '$1 double sharp')
    .replaceAll('𝄫', 'double flat ')
    .replaceAll('𝄪', 'double sharp ')
    .replaceAll(/([A-Za-z])♭/gu, '$1 flat')
    .replaceAll(/([A-Za-z])♯/gu, '$1 sharp')
    .replaceAll(/([A-Za-z])♮/gu, '$1 natural')
    .replaceAll('♭', 'flat ')
    .replaceAll('♯', 'sharp ')
    .replaceAll('♮', 'natural ')
    .replaceAll('✕', 'rubs ');
}

/**
 * A pitch, said. A number straight behind a name would be heard as part of it: 'A flat four'.
 * @param text the name as it is printed
 * @example spokenPitch('A♭', 4) // → 'A flat in octave 4'
 */
export function spokenPitch(text: string, octave: number): string {
  return `${spokenSigns(text)} in octave ${octave}`;
}

/**
 * A note's name, said: `B flat`.
 * @param text the name as it is printed; English by default
 */
export function spokenNote(note: NoteName, text?: (note: NoteName) => string): string {
  if (text !== undefined) return spokenSigns(text(note));
  const name = formatNoteName(note);
  return spokenSigns(typeset(name));
}

/**
 * A chord symbol, said.
 * @example spokenChord(ebMaj7) // → 'E flat major seven'
 */
export function spokenChord(chord: ChordSymbol): string {
  if (chord.kind === 'no chord') return 'no chord';
  const suffix = spokenSuffix(chord.suffix);
  const bass = chord.bass === null ? '' : ` over ${spokenNote(chord.bass)}`;
  return `${spokenNote(chord.root)}${suffix === '' ? ' major' : ` ${suffix}`}${bass}`;
}

/**
 * A chord symbol in ASCII, said; what is none is said sign by sign.
 * @example spokenSymbol('Ebmaj7') // → 'E flat major seven'
 */
export function spokenSymbol(symbol: string): string {
  const read = readChordSymbol(symbol);
  return read.ok ? spokenChord(read.value) : spokenSigns(typeset(symbol));
}

const ROMAN: Readonly<Record<string, string>> = {
  i: 'one',
  ii: 'two',
  iii: 'three',
  iv: 'four',
  v: 'five',
  vi: 'six',
  vii: 'seven',
};

/**
 * A numeral, said.
 * @param numeral ASCII
 * @example spokenNumeral('subV7/ii') // → 'substitute five seven of two'
 * @example spokenNumeral('Im6/9') // → 'one minor six nine'
 */
export function spokenNumeral(numeral: string): string {
  return (
    numeral
      // of 6/9 the stroke belongs to the chord; elsewhere it is 'of'
      .replaceAll('6/9', '69')
      .split('/')
      .map((part) => {
        const [, sign = '', sub = '', roman = '', suffix = ''] = /^([b#]*)(sub)?([IV]+|[iv]+)?(.*)$/u.exec(part) ?? [];
        return [
          spokenSuffix(sign),
          sub === '' ? '' : 'substitute',
          ROMAN[roman.toLowerCase()] ?? roman,
          spokenSuffix(suffix),
        ]
          .filter((each) => each !== '')
          .join(' ');
      })
      .join(' of ')
  );
}
