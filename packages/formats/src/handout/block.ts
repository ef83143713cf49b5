import type { Canvas } from './canvas.ts';

/** A piece of a page that is never split. Heights in points. */
export interface Block {
  readonly heightPt: number;
  /** Room above it; none at the top of a page. */
  readonly gapPt: number;
  /** Whether it must stand on the same page as the block after it: headings, and what belongs to one thing. */
  readonly keepWithNext: boolean;
  /** Set on a heading: a page may begin with it and no section is torn. */
  readonly isHeading?: boolean;
  draw(canvas: Canvas, topPt: number): void;
}

/** A block at its place on a page. */
export interface PlacedBlock {
  readonly block: Block;
  readonly topPt: number;
}

/** Gaps are tightened to these shares, one after the other, where that saves a page or keeps a section in one piece. */
const TIGHTER = [1, 0.85, 0.7, 0.55];

/** Pages that begin in the middle of a section. */
function tornPages(pages: readonly (readonly PlacedBlock[])[]): number {
  return pages.slice(1).filter(([first]) => first?.block.isHeading !== true).length;
}

/** Puts blocks on as few pages as they need, then with as few torn sections, their gaps as wide as that allows. */
export function fitPages(blocks: readonly Block[], topPt: number, bottomPt: number): PlacedBlock[][] {
  const [loose = [], ...tighter] = TIGHTER.map((share) =>
    paginate(
      blocks.map((block) => ({ ...block, gapPt: block.gapPt * share })),
      topPt,
      bottomPt,
    ),
  );
  return tighter.reduce((best, pages) => {
    const fewer = best.length - pages.length;
    return fewer > 0 || (fewer === 0 && tornPages(pages) < tornPages(best)) ? pages : best;
  }, loose);
}

/**
 * Puts blocks on pages, first to last. A chain of blocks that belong together moves to the next page as one, unless it is
 * longer than a page; then it breaks where it must.
 * @throws RangeError where one block is higher than a page.
 */
export function paginate(blocks: readonly Block[], topPt: number, bottomPt: number): PlacedBlock[][] {
  const pages: PlacedBlock[][] = [];
  let page: PlacedBlock[] = [];
  let y = topPt;
  const turn = (): void => {
    if (page.length > 0) pages.push(page);
    page = [];
    y = topPt;
  };
  const place = (block: Block): void => {
    if (block.heightPt > bottomPt - topPt + 0.01) {
      throw new RangeError(`a block must fit a page of ${bottomPt - topPt} pt, not be ${block.heightPt} pt high`);
    }
    if (y + (page.length === 0 ? 0 : block.gapPt) + block.heightPt > bottomPt + 0.01) turn();
    const top = y + (page.length === 0 ? 0 : block.gapPt);
    page.push({ block, topPt: top });
    y = top + block.heightPt;
  };
  for (let index = 0; index < blocks.length;) {
    let end = index;
    while (end + 1 < blocks.length && blocks[end]?.keepWithNext === true) end++;
    const chain = blocks.slice(index, end + 1);
    const height = chain.reduce((sum, block, at) => sum + block.heightPt + (at === 0 ? 0 : block.gapPt), 0);
    const gap = page.length === 0 ? 0 : (chain[0]?.gapPt ?? 0);
    if (y + gap + height > bottomPt + 0.01 && height <= bottomPt - topPt) turn();
    chain.forEach(place);
    index = end + 1;
  }
  turn();
  return pages;
}
