/** What may follow a note's flats when they are flats and not the letter b of a word (`Above`): the end, a sign, a suffix. */
const AFTER_NOTE = '(?=$|[^a-z]|m|dim|sus|alt|add|aug|omit|no)';

/** Flats after a note letter, before a degree's number, before a numeral. */
const FLATS = new RegExp(
  `(?<=(?<![A-Za-z])[A-G])b{1,2}${AFTER_NOTE}|b{1,2}(?=[0-9])|(?<![A-Za-z])b{1,2}(?=[IViv])`,
  'gu',
);

/**
 * Music in ASCII (notes, chord symbols, degrees, keys, numerals) as it is printed, with ♭ ♯ 𝄫 𝄪.
 * @example typeset('Bb7(b9,#11) subV7 bVII7') // → 'B♭7(♭9,♯11) subV7 ♭VII7'
 */
export function typeset(ascii: string): string {
  return ascii
    .replaceAll(FLATS, (flats) => (flats.length === 2 ? '𝄫' : '♭'))
    .replaceAll('##', '𝄪')
    .replaceAll('#', '♯');
}
