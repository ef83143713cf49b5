/** Control pictures stand for C0 signs (U+2400 for U+0000). Source: Unicode, block Control Pictures (from memory). */
const CONTROL_PICTURES = 0x2400;
const DELETE_PICTURE = '\u2421';
const REPLACEMENT = '\uFFFD';

/**
 * Signs that a terminal or a page obeys instead of showing: escape and the other controls, those that turn the direction of
 * writing, and halves of characters.
 */
// oxlint-disable-next-line no-control-regex -- they are what is looked for
const OBEYED = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]|\p{Surrogate}/gu;

/**
 * A text from outside as it can be shown in one line anywhere: what would be obeyed stands there as a sign, and nothing else changes.
 * @example shownText('A\u001b[2J') // → 'A␛[2J'
 */
export function shownText(text: string): string {
  return text.replaceAll(OBEYED, (sign) => {
    const code = sign.charCodeAt(0);
    if (code === 0x7f) return DELETE_PICTURE;
    return code < 0x20 ? String.fromCharCode(CONTROL_PICTURES + code) : REPLACEMENT;
  });
}

/**
 * A text cut to a length in UTF-16 units, never inside a character.
 * @example cutText('a👍', 2) // → 'a'
 */
export function cutText(text: string, most: number): string {
  if (text.length <= most) return text;
  const cut = text.slice(0, most);
  return /[\ud800-\udbff]$/.test(cut) ? cut.slice(0, -1) : cut;
}
