import type { Score, ScoreStaff } from '@fivespan/core';
import { createEngraver, type Engraver } from '@fivespan/formats/engraving';
import { writeMusicXml } from '@fivespan/formats/musicxml';
import type { Job } from '../../platform/workers/index.ts';

/** A stretch of a score to be engraved for the screen. */
export interface EngravingOrder {
  readonly score: Score;
  readonly parts: readonly ScoreStaff['role'][];
  /** Bars of the score by index, `to` exclusive. */
  readonly bars: { readonly from: number; readonly to: number };
  readonly widthMm: number;
  readonly staffHeightMm: number;
}

/** The engine stays in its worker: it takes a second to start. */
let engraver: Promise<Engraver> | undefined;

/** Engraves a stretch: one SVG a system, in the page's ink, its notes named (scoreNoteOf). */
export const engraveJob: Job<EngravingOrder, readonly string[]> = async (order, watch) => {
  engraver ??= createEngraver();
  const engine = await engraver;
  await watch.breathe();
  if (watch.cancelled()) return undefined;
  const { score, parts, bars, widthMm, staffHeightMm } = order;
  const xml = writeMusicXml(score, { purpose: 'engraving', parts, bars, noteIds: true });
  return { value: engine.engrave(xml, { widthMm, staffHeightMm, noteIds: true, ink: 'currentColor' }) };
};
