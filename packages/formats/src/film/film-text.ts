import { BOLD, SANS_FAMILIES, SERIF_FAMILIES, svgChord, svgText, type ChordPiece } from '../type/index.ts';

/** Numbers with at most two decimals, the same text on every machine. */
export function px(value: number): string {
  return String(Math.round(value * 100) / 100);
}

export function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}

/**
 * Widths of letters in ems, rounded up to the widest of each group. Source: the hmtx tables of Source Sans 3 and Source Serif 4 (600);
 * a test in a browser compares whole lines.
 */
function emsOf(character: string): number {
  if (/[\u0300-\u036f]/u.test(character)) return 0;
  if (/[iljIJ.,:;'’|!()[\]{}·-]/u.test(character)) return 0.34;
  if (/[ftr \u00a0/]/u.test(character)) return 0.4;
  if (/[mwMWÆŒæœ—…%@]/u.test(character)) return 0.96;
  if (/[A-ZÀ-ÞĀ-ŽА-ЯΑ-Ω]/u.test(character)) return 0.72;
  if (/[\u0020-\u052f\u1e00-\u1fff\u2000-\u21ff]/u.test(character)) return 0.58;
  if (/[♭♮♯′″‴]/u.test(character)) return 0.42;
  return 1.05;
}

/** A line's width at most, in ems of its size. */
export function lineEms(text: string): number {
  return [...text].reduce((sum, each) => sum + emsOf(each), 0);
}

/** The size in which a line fits a width: the one wished for, or smaller. */
export function fittingSize(text: string, size: number, width: number): number {
  const ems = lineEms(text);
  return ems * size <= width ? size : width / ems;
}

/** A chord symbol's width at most, in ems of its root. */
export function chordEms(pieces: readonly ChordPiece[]): number {
  return pieces.reduce((sum, { text, sizeEms, gapEms }) => sum + gapEms + lineEms(text) * sizeEms, 0);
}

/**
 * Text in lines no wider than a room, as few as it takes and at most so many; smaller where it takes more.
 * @example wrapped('Thumb on G', 36, 900, 2).lines // → ['Thumb on G']
 */
export function wrapped(
  text: string,
  size: number,
  width: number,
  most: number,
): { readonly lines: readonly string[]; readonly size: number } {
  for (let tried = size; tried > size * 0.3; tried *= 0.94) {
    const lines: string[] = [];
    for (const word of text.split(/ +/u)) {
      const last = lines.at(-1);
      if (last !== undefined && lineEms(`${last} ${word}`) * tried <= width)
        lines[lines.length - 1] = `${last} ${word}`;
      else lines.push(word);
    }
    if (lines.length <= most && lines.every((line) => lineEms(line) * tried <= width)) return { lines, size: tried };
  }
  return { lines: [text], size: fittingSize(text, size, width) };
}

export interface FilmText {
  readonly size: number;
  readonly fill: string;
  readonly face?: 'serif' | 'sans';
  readonly isBold?: boolean;
  readonly isItalic?: boolean;
  readonly anchor?: 'start' | 'middle' | 'end';
  /** What the text is, for whoever looks at the picture: `caption`, `finger`. */
  readonly role: string;
}

/** A line of text at its baseline. */
export function textLine(x: number, baseline: number, text: string, style: FilmText): string {
  const { size, fill, face = 'sans', isBold = false, isItalic = false, anchor = 'start', role } = style;
  return (
    `<text class="${role}" x="${px(x)}" y="${px(baseline)}" font-size="${px(size)}" text-anchor="${anchor}" fill="${fill}" ` +
    `font-family="${face === 'serif' ? SERIF_FAMILIES : SANS_FAMILIES}"${isBold ? ` font-weight="${BOLD}"` : ''}` +
    `${isItalic ? ' font-style="italic"' : ''} xml:space="preserve">${svgText(escaped(text))}</text>`
  );
}

/** A chord symbol at its baseline. */
export function chordAt(
  x: number,
  baseline: number,
  pieces: readonly ChordPiece[],
  style: {
    readonly size: number;
    readonly fill: string;
    readonly isBold: boolean;
    readonly anchor?: 'start' | 'end';
    readonly role: string;
  },
): string {
  const { size, fill, isBold, anchor = 'start', role } = style;
  return (
    `<text class="${role}" x="${px(x)}" y="${px(baseline)}" text-anchor="${anchor}" fill="${fill}" ` +
    `font-family="${SERIF_FAMILIES}" font-weight="${isBold ? BOLD : '400'}" xml:space="preserve">${svgChord(pieces, size)}</text>`
  );
}
