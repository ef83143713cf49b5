import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitPages, paginate, type Block } from './block.ts';

const block = fc.record({
  heightPt: fc.integer({ min: 1, max: 400 }),
  gapPt: fc.integer({ min: 0, max: 30 }),
  keepWithNext: fc.boolean(),
  draw: fc.constant((): void => {}),
});

const TOP = 40;
const BOTTOM = 740;

describe('pages', () => {
  it('hold every block once, in order, inside the page and apart from one another', () => {
    fc.assert(
      fc.property(fc.array(block, { maxLength: 40 }), (blocks: Block[]) => {
        const pages = paginate(blocks, TOP, BOTTOM);
        expect(pages.flat().map((each) => each.block)).toEqual(blocks);
        for (const page of pages) {
          let y = TOP;
          expect(page[0]?.topPt).toBe(TOP);
          for (const [index, { block: each, topPt }] of page.entries()) {
            expect(topPt).toBe(index === 0 ? TOP : y + each.gapPt);
            y = topPt + each.heightPt;
            expect(y).toBeLessThanOrEqual(BOTTOM);
          }
        }
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  it('never end with a heading whose content fits the next page with it', () => {
    fc.assert(
      fc.property(fc.array(block, { minLength: 2, maxLength: 40 }), (blocks: Block[]) => {
        const pages = paginate(blocks, TOP, BOTTOM);
        for (const [index, page] of pages.slice(0, -1).entries()) {
          const last = page.at(-1)!.block;
          if (!last.keepWithNext) continue;
          // the chain this block is in must be longer than a page
          const at = blocks.indexOf(last);
          let from = at;
          while (from > 0 && blocks[from - 1]!.keepWithNext) from--;
          let to = at;
          while (to + 1 < blocks.length && blocks[to]!.keepWithNext) to++;
          const chain = blocks.slice(from, to + 1);
          const height = chain.reduce((sum, each, place) => sum + each.heightPt + (place === 0 ? 0 : each.gapPt), 0);
          expect(height, `page ${index + 1}`).toBeGreaterThan(BOTTOM - TOP);
        }
      }),
      { seed: 4, numRuns: 300 },
    );
  });

  it('are set closer where that keeps a section in one piece', () => {
    const plain = { gapPt: 20, keepWithNext: false, draw: () => {} };
    const heading = { ...plain, heightPt: 20, keepWithNext: true, isHeading: true };
    const low = { ...plain, heightPt: 225 };
    // three and their gaps are 715 high, closer 709, 703, 697: only then they fit 700
    const pages = fitPages([low, low, low, heading, low], TOP, BOTTOM);
    expect(pages.map((page) => page.length)).toEqual([3, 2]);
    expect(pages[0]![1]!.topPt).toBeCloseTo(TOP + 225 + 20 * 0.55);
    const gapsKept = fitPages([low, low, heading, low], TOP, BOTTOM);
    expect(gapsKept[0]![1]!.topPt).toBe(TOP + 245);
  });

  it('refuse a block that no page can hold', () => {
    const tall = { heightPt: 701, gapPt: 0, keepWithNext: false, draw: () => {} };
    expect(() => paginate([tall], TOP, BOTTOM)).toThrow(RangeError);
  });
});
