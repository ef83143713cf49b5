/// <reference path="./pdfkit.d.ts" />
import svgToPdf from 'svg-to-pdfkit';
import { MUSIC_FONT_FAMILY } from '../engraving/index.ts';
import { fontRuns, type FontRole, type HandoutFonts } from './fonts.ts';
import type { Structure } from 'pdfkit';
import type { PdfDocument } from './pdf-document.ts';

/** Ink on paper, one warm tint (the pictures have it). */
export const INK = '#1c1916';
export const SOFT = '#5f584d';
export const HAIRLINE = '#b9b0a2';

/** A piece of text in one font and size. */
export interface TextRun {
  readonly kind: 'text';
  readonly text: string;
  readonly role: FontRole;
  readonly sizePt: number;
  readonly colour: string;
  /** Above the baseline. */
  readonly risePt: number;
  /** Room before it; nothing where nothing is said, and drawn closer where it is below. */
  readonly gapPt?: number;
}

/** The note a metronome mark counts. */
export interface BeatRun {
  readonly kind: 'beat';
  /** In ticks of the score, 960 to the quarter. */
  readonly ticks: number;
  readonly sizePt: number;
  readonly colour: string;
}

export type Run = TextRun | BeatRun;

export function textRun(text: string, role: FontRole, sizePt: number, colour: string = INK, risePt = 0): TextRun {
  return { kind: 'text', text, role, sizePt, colour, risePt };
}

const QUARTER_TICKS = 960;

/** Beats that are written with a dot: the dotted half, quarter, eighth and sixteenth. */
const DOTTED_TICKS: readonly number[] = [2880, 1440, 720, 360];

/** How a beat is written: an open head from the half note on, flags from the eighth down, a dot where it is dotted. */
function beatParts(ticks: number): { open: boolean; flags: number; dot: boolean; name: string } {
  const dot = DOTTED_TICKS.includes(ticks);
  const plain = dot ? (ticks * 2) / 3 : ticks;
  const flags = plain >= QUARTER_TICKS ? 0 : plain >= QUARTER_TICKS / 2 ? 1 : 2;
  const open = plain >= QUARTER_TICKS * 2;
  // U+1D15E half note, U+266A eighth note, U+2669 quarter note
  const glyph = open ? '\u{1D15E}' : flags > 0 ? '♪' : '♩';
  return { open, flags, dot, name: dot ? `${glyph}.` : glyph };
}

/** Runs as they are read: with a note's character for the note that is drawn. */
export function readText(runs: readonly Run[]): string {
  return runs.map((run) => (run.kind === 'text' ? run.text : beatParts(run.ticks).name)).join('');
}

/** A space nobody sees after the last word keeps it apart from what is set next, for those who copy or hear the text. */
function spaced(runs: readonly Run[]): readonly Run[] {
  const last = runs.at(-1);
  if (last?.kind !== 'text' || last.text === '') return runs;
  return [...runs.slice(0, -1), { ...last, text: `${last.text} ` }];
}

/** Where text and pictures are put on the current page; all lengths in points from the page's upper left corner. */
export class Canvas {
  readonly document: PdfDocument;
  readonly fonts: HandoutFonts;
  private readonly widths = new Map<string, number>();
  private readonly root: Structure;

  constructor(document: PdfDocument, fonts: HandoutFonts) {
    this.document = document;
    this.fonts = fonts;
    for (const role of Object.keys(fonts) as (keyof HandoutFonts)[]) {
      const font = fonts[role];
      if (font !== undefined) document.registerFont(role, font);
    }
    this.root = document.struct('Document');
    document.addStructure(this.root);
  }

  /**
   * Draws something that a screen reader should meet, in reading order: a heading (H1, H2), a paragraph (P), or a Figure.
   * @param words for a Figure what it shows; for text what is read in its place, where it has signs that are drawn.
   */
  tagged(type: 'H1' | 'H2' | 'P' | 'Figure', draw: () => void, words?: string): void {
    const options = words === undefined ? {} : type === 'Figure' ? { alt: words } : { actual: words };
    const element = this.document.struct(type, options);
    this.root.add(element);
    element.add(draw);
    element.end();
  }

  /** Draws what is no content: page numbers, lines. */
  artifact(draw: () => void): void {
    this.document.markContent('Artifact', { type: 'Pagination' });
    draw();
    this.document.endMarkedContent();
  }

  /** Ends what screen readers meet; nothing is drawn after it. */
  close(): void {
    this.root.end();
  }

  /** The width of a run. */
  widthOf(run: Run): number {
    if (run.kind === 'beat') {
      const { dot, flags } = beatParts(run.ticks);
      return run.sizePt * (0.42 + (flags > 0 ? 0.2 : 0) + (dot ? 0.18 : 0));
    }
    const key = `${run.role} ${run.sizePt} ${run.text}`;
    let width = this.widths.get(key);
    if (width === undefined) {
      width = 0;
      for (const { role, text } of fontRuns(run.text, run.role, this.fonts)) {
        width += this.document.font(role).fontSize(run.sizePt).widthOfString(text);
      }
      this.widths.set(key, width);
    }
    return width + (run.gapPt ?? 0);
  }

  widthOfAll(runs: readonly Run[]): number {
    return runs.reduce((sum, run) => sum + this.widthOf(run), 0);
  }

  /** Sets runs one after the other on a baseline. Text is text: nothing in it is read as markup. */
  put(runs: readonly Run[], xPt: number, baselinePt: number): void {
    let x = xPt;
    for (const run of spaced(runs)) {
      if (run.kind === 'beat') {
        this.beat(run, x, baselinePt);
        x += this.widthOf(run);
        continue;
      }
      x += run.gapPt ?? 0;
      for (const { role, text } of fontRuns(run.text, run.role, this.fonts)) {
        this.document.font(role).fontSize(run.sizePt).fillColor(run.colour);
        this.document.text(text, x, baselinePt - run.risePt, { lineBreak: false, baseline: 'alphabetic' });
        x += this.document.widthOfString(text);
      }
    }
  }

  /** Sets runs so that they end at x. */
  putRight(runs: readonly Run[], xPt: number, baselinePt: number): void {
    this.put(runs, xPt - this.widthOfAll(runs), baselinePt);
  }

  putCentred(runs: readonly Run[], xPt: number, baselinePt: number): void {
    this.put(runs, xPt - this.widthOfAll(runs) / 2, baselinePt);
  }

  private beat(run: BeatRun, xPt: number, baselinePt: number): void {
    const { open, flags, dot } = beatParts(run.ticks);
    const size = run.sizePt;
    const rx = size * 0.155;
    const ry = size * 0.108;
    const cx = xPt + size * 0.17;
    const cy = baselinePt - ry;
    const stemX = cx + rx * 0.9;
    const top = baselinePt - size * 0.82;
    const document = this.document;
    document
      .save()
      .rotate(-22, { origin: [cx, cy] })
      .ellipse(cx, cy, rx, ry);
    if (open) document.lineWidth(size * 0.055).stroke(run.colour);
    else document.fill(run.colour);
    document.restore();
    document
      .save()
      .lineWidth(size * 0.048)
      .moveTo(stemX, cy)
      .lineTo(stemX, top)
      .stroke(run.colour);
    for (let flag = 0; flag < flags; flag++) {
      const from = top + flag * size * 0.2;
      document
        .moveTo(stemX, from)
        .bezierCurveTo(
          stemX + size * 0.04,
          from + size * 0.16,
          stemX + size * 0.24,
          from + size * 0.2,
          stemX + size * 0.15,
          from + size * 0.44,
        )
        .bezierCurveTo(
          stemX + size * 0.19,
          from + size * 0.26,
          stemX + size * 0.08,
          from + size * 0.22,
          stemX,
          from + size * 0.18,
        )
        .fill(run.colour);
    }
    if (dot) document.circle(cx + size * (0.28 + (flags > 0 ? 0.12 : 0)), cy, size * 0.045).fill(run.colour);
    document.restore();
  }

  line(x1: number, y1: number, x2: number, y2: number, widthPt: number, colour: string = INK): void {
    this.document.lineWidth(widthPt).moveTo(x1, y1).lineTo(x2, y2).stroke(colour);
  }

  box(x: number, y: number, width: number, height: number, colour: string): void {
    this.document.rect(x, y, width, height).fill(colour);
  }

  frame(x: number, y: number, width: number, height: number, linePt: number): void {
    this.document.lineWidth(linePt).rect(x, y, width, height).stroke(INK);
  }

  dot(x: number, y: number, radius: number): void {
    this.document.circle(x, y, radius).fill(INK);
  }

  /** Draws an SVG document into a rectangle. */
  svg(svg: string, x: number, y: number, width: number, height: number): void {
    svgToPdf(this.document, svg, x, y, {
      width,
      height,
      assumePt: true,
      preserveAspectRatio: 'xMinYMin meet',
      fontCallback: (family, bold, italic) => roleOf(family, bold, italic),
      warningCallback: (warning) => {
        throw new Error(`a picture for the handout holds what cannot be printed: ${warning}`);
      },
    });
  }
}

/** Which of our fonts stands for the font an SVG asks for. */
function roleOf(family: string, bold: boolean, italic: boolean): FontRole {
  if (family.includes(MUSIC_FONT_FAMILY)) return 'music';
  // a stretch of signs names the sign font alone (type/svg-text.ts); a stack begins with it
  if (/^'?Fivespan Signs'?$/u.test(family)) return bold ? 'signs-bold' : 'signs';
  if (/sans/iu.test(family)) return bold ? 'sans-bold' : 'sans';
  return italic ? 'serif-italic' : bold ? 'serif-bold' : 'serif';
}
