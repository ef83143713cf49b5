import type { Lesson } from '@fivespan/core';
import { octaveMarks } from '../diagram/index.ts';
import type { Block } from './block.ts';
import { SOFT, textRun, type Run } from './canvas.ts';
import { drawTab, tabSize, type Tab } from './chord-symbol.ts';
import type { Printing } from './printing.ts';

/** A sign of the page and what it means: a tab, or a word set as what it stands for. */
export interface LegendSign {
  readonly sign: Tab['kind'] | Run;
  readonly text: string;
}

/** The signs of octaves that a lesson's tabs have, with their meaning; none where no name is in two. */
export function octaveSigns({ words }: Printing, lesson: Lesson, sizePt: number): LegendSign[] {
  const signs = new Set(octaveMarks(lesson).values());
  return (['↑', '↓'] as const)
    .filter((sign) => signs.has(sign))
    .map((sign) => ({ sign: textRun(sign, 'sans-bold', sizePt), text: words.octave[sign] }));
}

/** What the tabs under the chart and the looks of the degrees mean, and a note after them. */
export function legendBlock(
  { canvas, frame }: Printing,
  signs: readonly LegendSign[],
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
      const baseline = topPt + sizePt * 1.28;
      let x = frame.leftPt;
      target.tagged('P', () => {
        for (const { sign, text } of signs) {
          if (typeof sign === 'string') {
            drawTab(target, { name: null, mark: '', kind: sign }, x, topPt + sizePt * 0.28, tabPt);
            x += widthPt + 5;
          } else {
            target.put([sign], x, baseline);
            x += canvas.widthOf(sign) + 4;
          }
          const run = textRun(text, 'sans', sizePt, SOFT);
          target.put([run], x, baseline);
          x += canvas.widthOf(run) + 18;
        }
        if (note !== '') target.put([textRun(note, 'sans', sizePt, SOFT)], x, baseline);
      });
    },
  };
}
