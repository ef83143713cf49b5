import type { Score, ScoreStaff } from '@fivespan/core';
import { writeMusicXml } from '@fivespan/formats/musicxml';
import type { Job } from '../../platform/workers/index.ts';
import { withNoteGrounds } from './note-ground.ts';
import { workerEngraver } from './worker-engraver.ts';

/** A stretch of a score to be engraved for the screen. */
export interface EngravingOrder {
  readonly score: Score;
  readonly parts: readonly ScoreStaff['role'][];
  /** Bars of the score by index, `to` exclusive. */
  readonly bars: { readonly from: number; readonly to: number };
  readonly widthMm: number;
  readonly staffHeightMm: number;
  /** A sign for each of the score's thumbs (tabMarksOf): which shape it begins. */
  readonly thumbMarks: readonly string[];
  /** Whether its last line fills the width: a line of a longer piece. */
  readonly fills?: boolean;
}

/** Engraves a stretch: one SVG a system, in the page's ink, its notes named (scoreNoteOf). */
export const engraveJob: Job<EngravingOrder, readonly string[]> = async (order, watch) => {
  const engine = await workerEngraver();
  await watch.breathe();
  if (watch.cancelled()) return undefined;
  const { score, parts, bars, widthMm, staffHeightMm, thumbMarks, fills = false } = order;
  const xml = writeMusicXml(score, { purpose: 'engraving', parts, bars, thumbMarks, noteIds: true });
  const systems = engine.engrave(xml, {
    widthMm,
    staffHeightMm,
    noteIds: true,
    ink: 'currentColor',
    fillsLastSystem: fills,
  });
  return { value: systems.map((svg) => withNoteGrounds(svg, staffHeightMm)) };
};
