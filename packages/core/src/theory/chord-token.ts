/** A word or number of a chord symbol in its one normal form: `maj`, `m`, `dim`, `ø`, `+`, `sus`, `alt`, `add`, `omit`, `b9`, `13`. */
export interface ChordToken {
  readonly text: string;
  /** Where it begins in the text read, from 0. */
  readonly start: number;
}

/** The tokens of a symbol's part after the root, and where reading stopped: null where it came to the end. */
export interface ChordTokens {
  readonly tokens: readonly ChordToken[];
  readonly stoppedAt: number | null;
}

/**
 * Words and signs with their variants, longest first where one begins another. Common practice. `ma` before `add` is
 * minor with an added note.
 */
const WORDS: readonly (readonly [normal: string, pattern: RegExp])[] = [
  ['maj', /maj(?:or)?|Maj(?:or)?|MAJ|ma(?!dd)|Ma(?!dd)|MA(?!DD)|M(?![iI])/uy],
  ['Δ', /[Δ∆△▵^]/uy],
  ['m', /min(?:or)?|Min(?:or)?|MIN|mi|Mi|MI|m|[-−–‑]/uy],
  ['dim', /dim|Dim|DIM|[°º˚]|o(?!mit)/uy],
  ['ø', /[øØ⌀]/uy],
  ['+', /aug|Aug|AUG|\+/uy],
  ['sus', /sus|Sus|SUS/uy],
  ['alt', /alt\.?|Alt|ALT/uy],
  ['add', /add|Add|ADD/uy],
  ['omit', /omit|Omit|OMIT|no|No|NO/uy],
  ['dom', /dom|Dom/uy],
];

const NUMBER = /(bb?|♭♭?|##?|♯♯?)?(13|11|[2-79])(?:rd|th)?/uy;
/** `+` and `-` before a fifth or a tension raise and lower it: Cm7-5, C7+9. */
const SIGNED = /([-−–+])(5|9|11|13)/uy;
const SEPARATOR = /[\s,]|\/(?=[b#♭♯+-]?\d|[Mm]aj|[Mm]a|M|[Δ∆△▵^])/uy;

const matchAt = (pattern: RegExp, text: string, at: number): RegExpExecArray | null => {
  pattern.lastIndex = at;
  return pattern.exec(text);
};

/** Cuts the part of a chord symbol after its root into tokens. */
export function chordTokensOf(text: string): ChordTokens {
  const tokens: ChordToken[] = [];
  const opened: number[] = [];
  let at = 0;
  const pushTriangle = (start: number, next: number): void => {
    tokens.push({ text: 'maj', start });
    // the triangle alone is a major seventh
    if (!/^(?:7|9|1[13])/u.test(text.slice(next))) tokens.push({ text: '7', start });
  };
  while (at < text.length) {
    const character = text[at] as string;
    if (character === '(') {
      opened.push(at);
      at++;
      continue;
    }
    if (character === ')') {
      if (opened.pop() === undefined) return { tokens, stoppedAt: at };
      at++;
      continue;
    }
    const separator = matchAt(SEPARATOR, text, at);
    if (separator !== null) {
      at += separator[0].length;
      continue;
    }
    const isFirst = tokens.length === 0 && opened.length === 0;
    const signed = isFirst ? null : matchAt(SIGNED, text, at);
    if (signed !== null) {
      tokens.push({ text: (signed[1] === '+' ? '#' : 'b') + (signed[2] as string), start: at });
      at += signed[0].length;
      continue;
    }
    const number = matchAt(NUMBER, text, at);
    if (number !== null) {
      const accidentals = (number[1] ?? '').replaceAll('♭', 'b').replaceAll('♯', '#');
      tokens.push({ text: accidentals + (number[2] as string), start: at });
      at += number[0].length;
      continue;
    }
    const start = at;
    for (const [normal, pattern] of WORDS) {
      const word = matchAt(pattern, text, at);
      if (word === null) continue;
      at += word[0].length;
      if (normal === 'Δ') pushTriangle(start, at);
      else tokens.push({ text: normal, start });
      break;
    }
    if (at === start) return { tokens, stoppedAt: at };
  }
  return { tokens, stoppedAt: opened[0] ?? null };
}
