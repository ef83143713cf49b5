/**
 * What is set in the sign font (tools/signs.mjs makes it, and a test compares): no text face has these, and a reader's system
 * is never asked for one.
 */
export const SIGNS = '‑′″‴⁗←→△▵♩♪♭♮♯✕\uFFFD𝄋𝄌𝄎𝄪𝄫\u{1D15E}';

const SIGN_SET: ReadonlySet<string> = new Set(SIGNS);

/** Whether a character (a code point) is set in the sign font. */
export function isSign(character: string): boolean {
  return SIGN_SET.has(character);
}

/** A stretch of text that is all signs, or has none. */
export interface SignRun {
  readonly text: string;
  readonly isSign: boolean;
}

/**
 * Text split where the face changes between letters and signs.
 * @example signRuns('E♭7').map(({ text }) => text) // → ['E', '♭', '7']
 */
export function signRuns(text: string): SignRun[] {
  const runs: { text: string; isSign: boolean }[] = [];
  for (const character of text) {
    const sign = isSign(character);
    const last = runs.at(-1);
    if (last?.isSign === sign) last.text += character;
    else runs.push({ text: character, isSign: sign });
  }
  return runs;
}
