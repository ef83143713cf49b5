import type { ChordPiece } from './chord-layout.ts';
import { signRuns } from './signs.ts';

/** The sign font's name as an attribute's value. */
const SIGN_FAMILY = 'Fivespan Signs';

/**
 * Text for an SVG with its signs in spans of the sign font, for readers that do not choose a face by the character.
 * @param escaped text, `&`, `<` and `>` escaped
 * @example svgText('E♭') // → 'E<tspan font-family="Fivespan Signs">♭</tspan>'
 */
export function svgText(escaped: string): string {
  return signRuns(escaped)
    .map(({ text, isSign }) => (isSign ? `<tspan font-family="${SIGN_FAMILY}">${text}</tspan>` : text))
    .join('');
}

/** Lengths with at most two decimals, the same text on every machine. */
function length(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/**
 * A chord symbol's pieces (chordPieces) as the spans of an SVG text element, whose own font is the serif, semibold.
 * @param size of the root, in user units
 */
export function svgChord(pieces: readonly ChordPiece[], size: number): string {
  let rise = 0;
  return pieces
    .map((piece) => {
      const up = piece.riseEms - rise;
      rise = piece.riseEms;
      const dx = piece.gapEms === 0 ? '' : ` dx="${length(piece.gapEms * size)}"`;
      const dy = up === 0 ? '' : ` dy="${length(-up * size)}"`;
      const face = piece.isSign ? ` font-family="${SIGN_FAMILY}"` : '';
      const weight = piece.isBolder ? ' font-weight="700"' : '';
      const text = piece.text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
      return `<tspan font-size="${length(piece.sizeEms * size)}"${face}${weight}${dx}${dy}>${text}</tspan>`;
    })
    .join('');
}
