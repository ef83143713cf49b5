/**
 * A spelled pitch class: letter and accidentals without an octave. Held as its place on the line of fifths
 * (… B♭ −2, F −1, C 0, G 1, D 2 …), so that C♯ (7) and D♭ (−5) stay apart and transposing is one addition.
 * Source: Temperley 2001, 'The Cognition of Basic Musical Structures', ch. 5 (tonal pitch classes; from memory).
 */
export type NoteName = number & { readonly __brand: 'NoteName' };

/** A pitch class without spelling, 0 (C) to 11 (B). */
export type PitchClass = number & { readonly __brand: 'PitchClass' };

/** The seven letters in the order of the line of fifths, F = −1. */
const LETTERS_BY_FIFTHS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const;

/** The furthest spelling that can be written: two accidentals either way (F♭♭ −15 to B♯♯ 19). */
export const LOWEST_FIFTHS = -15;
export const HIGHEST_FIFTHS = 19;

/** Euclidean remainder: the result is always in 0 … modulus − 1. */
export function modulo(value: number, modulus: number): number {
  return ((value % modulus) + modulus) % modulus;
}

/**
 * The note name at a place on the line of fifths.
 * @throws RangeError where it would need more than two accidentals.
 */
export function noteNameFromFifths(fifths: number): NoteName {
  if (!Number.isInteger(fifths) || fifths < LOWEST_FIFTHS || fifths > HIGHEST_FIFTHS) {
    throw new RangeError(`fifths must be an integer from ${LOWEST_FIFTHS} to ${HIGHEST_FIFTHS}, not ${fifths}`);
  }
  return fifths as NoteName;
}

/**
 * Reads a note name: a letter A–G and up to two accidentals, `b` or ♭, `#` or ♯; two of them may be 𝄫 or 𝄪. Upper case only.
 * @returns undefined where the text is no note name.
 * @example parseNoteName('Bb') // → -2
 */
export function parseNoteName(text: string): NoteName | undefined {
  const match = /^([A-G])(b{0,2}|♭{0,2}|#{0,2}|♯{0,2})$/u.exec(text.replace('𝄫', 'bb').replace('𝄪', '##'));
  if (match === null) return undefined;
  const [, letter = '', accidentals = ''] = match;
  const perAccidental = /[b♭]/u.test(accidentals) ? -7 : 7;
  const base = LETTERS_BY_FIFTHS.findIndex((each) => each === letter) - 1;
  return noteNameFromFifths(base + perAccidental * [...accidentals].length);
}

/**
 * The note name a programmer wrote as a literal.
 * @throws TypeError where the text is no note name; for input from outside use parseNoteName.
 * @example noteName('Eb') // → -3
 */
export function noteName(text: string): NoteName {
  const name = parseNoteName(text);
  if (name === undefined) throw new TypeError(`text must be a note name such as 'Bb', not '${text}'`);
  return name;
}

/** The letter of a note name, `C` for C♯. */
export function letterOf(name: NoteName): string {
  return LETTERS_BY_FIFTHS[modulo(name + 1, 7)] as string;
}

/** How many sharps (positive) or flats (negative) a note name has. */
export function accidentalsOf(name: NoteName): number {
  return Math.floor((name + 1) / 7);
}

/**
 * A note name in ASCII: `Bb`, `F##`.
 * @example formatNoteName(noteName('Bb')) // → 'Bb'
 */
export function formatNoteName(name: NoteName): string {
  const accidentals = accidentalsOf(name);
  return letterOf(name) + (accidentals < 0 ? 'b' : '#').repeat(Math.abs(accidentals));
}

/**
 * The pitch class of a note name.
 * @example pitchClassOf(noteName('Cb')) // → 11
 */
export function pitchClassOf(name: NoteName): PitchClass {
  return modulo(name * 7, 12) as PitchClass;
}

/**
 * A pitch class from an integer of any octave.
 * @throws RangeError where the value is no integer.
 */
export function pitchClass(value: number): PitchClass {
  if (!Number.isInteger(value)) throw new RangeError(`value must be an integer, not ${value}`);
  return modulo(value, 12) as PitchClass;
}

/**
 * All spellings of a pitch class with at most `mostAccidentals` accidentals, fewest accidentals first, flats before sharps.
 * @example spellingsOf(pitchClass(11), 1).map(formatNoteName) // → ['B', 'Cb']
 */
export function spellingsOf(target: PitchClass, mostAccidentals: 0 | 1 | 2): NoteName[] {
  const names: NoteName[] = [];
  for (let fifths = LOWEST_FIFTHS; fifths <= HIGHEST_FIFTHS; fifths++) {
    const name = fifths as NoteName;
    if (pitchClassOf(name) === target && Math.abs(accidentalsOf(name)) <= mostAccidentals) names.push(name);
  }
  return names.sort((a, b) => Math.abs(accidentalsOf(a)) - Math.abs(accidentalsOf(b)) || a - b);
}
