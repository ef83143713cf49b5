import type { Block } from './block.ts';
import { SOFT, textRun } from './canvas.ts';
import { drawTab, tabSize, type Tab } from './chord-symbol.ts';
import type { Printing } from './printing.ts';

/** What the tabs under the chart mean, and a note after them. */
export function legendBlock(
  { canvas, frame }: Printing,
  signs: readonly (readonly [Tab['kind'], string])[],
  sizePt: number,
  note = '',
): Block {
  const tabPt = sizePt * 0.77;
  return {
    heightPt: sizePt * 1.85,
    gapPt: 8,
    keepWithNext: false,
    draw: (target, topPt) => {
      const { widthPt } = tabSize(tabPt);
      let x = frame.leftPt;
      target.tagged('P', () => {
        for (const [kind, text] of signs) {
          drawTab(target, { name: null, mark: '', kind }, x, topPt + sizePt * 0.28, tabPt);
          x += widthPt + 5;
          const run = textRun(text, 'sans', sizePt, SOFT);
          target.put([run], x, topPt + sizePt * 1.28);
          x += canvas.widthOf(run) + 18;
        }
        if (note !== '') target.put([textRun(note, 'sans', sizePt, SOFT)], x, topPt + sizePt * 1.28);
      });
    },
  };
}
