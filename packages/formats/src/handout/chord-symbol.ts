import type { ChordSymbol, NoteName } from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import { chordPieces } from '../type/index.ts';
import { INK, textRun, type Canvas, type Run } from './canvas.ts';

/** From this size on a symbol's steps are wider apart. */
const TEXT_STEP_PT = 11;

/** A chord symbol as it is set everywhere (chordPieces), on a page. */
export function chordRuns(chord: ChordSymbol, sizePt: number, colour: string = INK): Run[] {
  return chordPieces(chord, sizePt >= TEXT_STEP_PT ? 'text' : 'small').map((piece) => ({
    kind: 'text',
    text: piece.text,
    role: piece.isSign ? (piece.isBolder ? 'signs-black' : 'signs-bold') : 'serif-bold',
    sizePt: piece.sizeEms * sizePt,
    colour,
    risePt: piece.riseEms * sizePt,
    gapPt: piece.gapEms * sizePt,
  }));
}

/**
 * A thumb tab on paper: `now` is solid, `other` (another thumb of the family) open, in a thin line, `next` dashed. For a free hand `may`
 * has a plain outline, `second`, of the other family that a teacher allows, a line within it, as on the screen.
 */
export interface Tab {
  /** Null for a bare sign, as in a legend. */
  readonly name: NoteName | null;
  /** Tells the shape, see ShapeMarks; empty for the lesson's first. */
  readonly mark: string;
  readonly kind: 'now' | 'other' | 'next' | 'may' | 'second';
}

/** Width and height of a tab whose letter has this size. */
export function tabSize(sizePt: number): { widthPt: number; heightPt: number; gapPt: number } {
  return { widthPt: sizePt * 2.1, heightPt: sizePt * 1.62, gapPt: sizePt * 0.32 };
}

/** Draws a tab hanging from a line at `top`. */
export function drawTab(canvas: Canvas, tab: Tab, xPt: number, topPt: number, sizePt: number): void {
  const { widthPt: width, heightPt: height } = tabSize(sizePt);
  const radius = sizePt * 0.55;
  const outline =
    `M${xPt} ${topPt}h${width}v${height - radius}a${radius} ${radius} 0 0 1 ${-radius} ${radius}` +
    `h${2 * radius - width}a${radius} ${radius} 0 0 1 ${-radius} ${-radius}z`;
  const document = canvas.document;
  document.save().lineWidth(sizePt * 0.085);
  if (tab.kind === 'now') document.path(outline).fillAndStroke(INK, INK);
  else if (tab.kind === 'may') document.path(outline).stroke(INK);
  else if (tab.kind === 'other')
    document
      .lineWidth(sizePt * 0.055)
      .path(outline)
      .stroke(INK);
  else if (tab.kind === 'second') {
    const inset = sizePt * 0.2;
    const inner = radius - inset / 2;
    document
      .path(outline)
      .stroke(INK)
      .path(
        `M${xPt + inset} ${topPt}v${height - inset - inner}a${inner} ${inner} 0 0 0 ${inner} ${inner}` +
          `h${width - 2 * inset - 2 * inner}a${inner} ${inner} 0 0 0 ${inner} ${-inner}v${inset + inner - height}`,
      )
      .stroke(INK);
  } else
    document
      .dash(sizePt * 0.22, { space: sizePt * 0.17 })
      .path(outline)
      .stroke(INK)
      .undash();
  document.restore();
  const { name } = tab;
  if (name === null) return;
  const colour = tab.kind === 'now' ? '#ffffff' : INK;
  const atSize = (pt: number): Run => textRun(noteText(name) + tab.mark, 'sans-bold', pt, colour);
  const room = width - sizePt * 0.35;
  const largest = sizePt * 1.12;
  const letter = atSize(largest * Math.min(1, room / canvas.widthOf(atSize(largest))));
  canvas.putCentred([letter], xPt + width / 2, topPt + height * 0.5 + sizePt * 0.37);
}

/** Draws tabs side by side and returns where they end. */
export function drawTabs(canvas: Canvas, tabs: readonly Tab[], xPt: number, topPt: number, sizePt: number): number {
  const { widthPt, gapPt } = tabSize(sizePt);
  tabs.forEach((tab, index) => drawTab(canvas, tab, xPt + index * (widthPt + gapPt), topPt, sizePt));
  return xPt + tabsWidth(tabs.length, sizePt);
}

export function tabsWidth(count: number, sizePt: number): number {
  const { widthPt, gapPt } = tabSize(sizePt);
  return count === 0 ? 0 : count * widthPt + (count - 1) * gapPt;
}
