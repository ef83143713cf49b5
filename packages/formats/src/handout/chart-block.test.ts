import { afterAll, describe, expect, it } from 'vitest';
import { createEngraver } from '../engraving/index.ts';
import { pageFonts } from '../../../../checks/handout-fonts.ts';
import { Canvas } from './canvas.ts';
import { chartBlocks } from './chart-block.ts';
import { writtenBars } from './chart-content.ts';
import { inventedLesson } from './invented-lesson.ts';
import { PdfDocument } from './pdf-document.ts';
import { frameOf } from './printing.ts';
import { ENGLISH } from './words.ts';

/** Remembers where bar lines, thick ones too, stand; draws as well. */
class LineKeeper extends Canvas {
  readonly edges: number[] = [];
  override line(x1: number, y1: number, x2: number, y2: number, widthPt: number, colour?: string): void {
    this.edges.push(x1, x2);
    super.line(x1, y1, x2, y2, widthPt, colour);
  }
  override box(x: number, y: number, width: number, height: number, colour: string): void {
    this.edges.push(x, x + width);
    super.box(x, y, width, height, colour);
  }
}

const frame = frameOf('a4');
const engraver = await createEngraver();
const fonts = pageFonts();
afterAll(() => engraver.close());

/** How far each row of a chart goes, as a share of the width. */
function rowWidths(bars: string, chordPt: number): number[] {
  const lesson = inventedLesson({ key: 'F major', meter: { count: 3, unit: 4 }, sections: [['A', bars]] });
  const document = new PdfDocument('', 'en');
  document.addPage({ size: [595, 842], margin: 0 });
  const canvas = new LineKeeper(document, fonts);
  const printing = { canvas, engraver, frame, words: ENGLISH };
  const content = { numerals: true, tabs: 'family' } as const;
  const type = { chordPt, numeralPt: 8, tabPt: 7, barsInRow: 4 };
  return chartBlocks(printing, writtenBars(lesson, content), type).map((block) => {
    canvas.edges.length = 0;
    block.draw(canvas, 100);
    return (Math.max(...canvas.edges) - frame.leftPt) / frame.widthPt;
  });
}

describe('rows of a chart', () => {
  const three = 'Gm7:ii C7:V Fmaj7:I';

  it('fill the width where bars have three chords, four or two to a row', () => {
    for (const chordPt of [14.5, 21]) {
      for (const width of rowWidths(Array.from({ length: 8 }, () => three).join(' | '), chordPt)) {
        expect(width).toBeCloseTo(1, 2);
      }
    }
    expect(rowWidths(`${three} | ${three}`, 21)).toHaveLength(1);
    expect(rowWidths(`${three} | ${three}`, 21)[0]).toBeCloseTo(1, 2);
  });

  it('end early only where a section ends with fewer bars than the row above has', () => {
    const plain = (count: number): string => Array.from({ length: count }, () => 'Fmaj7:I').join(' | ');
    const rounded = (bars: string): number[] => rowWidths(bars, 14.5).map((width) => Math.round(width * 100));
    expect(rounded(plain(6))).toEqual([100, 50]);
    expect(rounded(plain(8))).toEqual([100, 100]);
    expect(rounded(plain(2))).toEqual([50]);
  });

  it('hold thirty chords in a bar, however small', () => {
    const crowd = Array.from({ length: 30 }, () => 'C7(b9,b13):V7').join(' ');
    for (const width of rowWidths(`${crowd} | Fmaj7:I`, 14.5)) expect(width).toBeLessThan(1.01);
  });
});
