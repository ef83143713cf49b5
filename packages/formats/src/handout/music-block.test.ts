import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageFonts } from '../../../../checks/handout-fonts.ts';
import { createEngraver, type Engraver } from '../engraving/index.ts';
import { Canvas } from './canvas.ts';
import { inventedLesson } from './invented-lesson.ts';
import { musicBlocks } from './music-block.ts';
import { PdfDocument } from './pdf-document.ts';
import { frameOf } from './printing.ts';
import { ENGLISH } from './words.ts';

/** Keeps the pictures instead of drawing them. */
class PictureKeeper extends Canvas {
  readonly pictures: string[] = [];
  readonly words: string[] = [];

  override svg(svg: string): void {
    this.pictures.push(svg);
  }

  override tagged(_type: string, draw: () => void, words?: string): void {
    draw();
    this.words.push(words ?? '');
  }
}

const lesson = inventedLesson({
  key: 'Eb major',
  sections: [
    ['A very long name & more', 'Fm7:iim7 | Bb7:V7 | Ebmaj7:Imaj7 | Ebmaj7:Imaj7'],
    ['B', 'Fm7:iim7 | Bb7:V7 | Ebmaj7:Imaj7 | Ebmaj7:Imaj7'],
  ],
});

describe('engraved music', () => {
  let engraver: Engraver;
  beforeAll(async () => {
    engraver = await createEngraver();
  });
  afterAll(() => engraver.close());

  const print = (thumbs: boolean) => {
    const canvas = new PictureKeeper(new PdfDocument('', 'en'), pageFonts());
    const printing = { canvas, engraver, frame: frameOf('a4'), words: ENGLISH };
    const choice = {
      parts: ['right hand', 'left hand'],
      numerals: false,
      fingers: false,
      thumbs,
      tabMarks: [],
      staffHeightMm: 5.6,
    } as const;
    const blocks = musicBlocks(printing, lesson.score, 'Chorus', choice);
    for (const block of blocks) block.draw(canvas, 0);
    return { canvas, blocks, all: canvas.pictures.join('') };
  };

  it('has a solid tab for every move of the thumb, with its name, and no plain box left', () => {
    const { all } = print(true);
    const names = [...all.matchAll(/<g class="dir"><path d="[^"]*" fill="#1c1916"\/><text[^>]*>(.*?)<\/text>/gu)].map(
      (found) => found[1],
    );
    expect(lesson.score.thumbs.length).toBeGreaterThan(3);
    expect(names.length).toBe(lesson.score.thumbs.length);
    expect(all).not.toContain('<g class="dir"><rect');
    expect(print(false).all).not.toContain('<g class="dir">');
  });

  it('cuts long section names and frames them where they stand', () => {
    const { all } = print(false);
    const boxes = [
      ...all.matchAll(
        /<g class="reh"><rect[^>]* x="(\d+)" y="-?\d+" height="\d+" width="(\d+)"\/><text x="(\d+)"[^>]*>([^<]*)</gu,
      ),
    ];
    expect(boxes.map((found) => found[4])).toEqual(['A very lo…', 'B']);
    for (const [, x, width, middle] of boxes)
      expect(Number(x) + Number(width) / 2 - Number(middle)).toBeLessThanOrEqual(1);
  });

  it('says which line of how many each picture is', () => {
    const { canvas, blocks } = print(true);
    expect(canvas.words).toEqual(blocks.map((_, index) => `Chorus, in notes: line ${index + 1} of ${blocks.length}`));
    for (const block of blocks) expect(block.heightPt).toBeGreaterThan(40);
  });
});
