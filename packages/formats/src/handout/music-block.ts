import type { Score, ScoreStaff } from '@fivespan/core';
import type { Engraver } from '../engraving/index.ts';
import { writeMusicXml } from '../musicxml/index.ts';
import type { Block } from './block.ts';
import type { Frame } from './page-frame.ts';
import { POINTS_PER_MM } from './pdf-document.ts';

/** What of the score is engraved, and how large. */
export interface MusicChoice {
  readonly parts: readonly ScoreStaff['role'][];
  readonly numerals: boolean;
  readonly fingers: boolean;
  readonly thumbs: boolean;
  readonly staffHeightMm: number;
}

/** Engraved systems as blocks; a system is never split. Empty where the score has no notes for these parts. */
export function musicBlocks(score: Score, engraver: Engraver, choice: MusicChoice, frame: Frame): Block[] {
  const hasNotes = score.staves.some((staff) => choice.parts.includes(staff.role) && staff.notes.length > 0);
  if (!hasNotes) return [];
  const musicXml = writeMusicXml(score, {
    parts: choice.parts,
    chords: true,
    numerals: choice.numerals,
    fingers: choice.fingers,
    thumbs: choice.thumbs,
    purpose: 'engraving',
  });
  const systems = engraver.engrave(musicXml, {
    widthMm: frame.widthPt / POINTS_PER_MM,
    staffHeightMm: choice.staffHeightMm,
  });
  const room = frame.bottomPt - frame.topPt - 40;
  return systems.map((svg, index) => {
    const { widthMm, heightMm } = sizeOf(svg);
    // a system higher than a page is unheard of; should one come, it is made smaller rather than cut
    const scale = Math.min(1, room / (heightMm * POINTS_PER_MM));
    const widthPt = widthMm * POINTS_PER_MM * scale;
    const heightPt = heightMm * POINTS_PER_MM * scale;
    return {
      heightPt,
      gapPt: index === 0 ? 2 : 5,
      keepWithNext: false,
      draw: (canvas, topPt) => canvas.svg(svg, frame.leftPt, topPt, widthPt, heightPt),
    };
  });
}

function sizeOf(svg: string): { widthMm: number; heightMm: number } {
  const size = /<svg\b[^>]*\swidth="([\d.]+)mm"[^>]*\sheight="([\d.]+)mm"/u.exec(svg);
  if (size === null) throw new TypeError('svg must state its width and height in millimetres');
  return { widthMm: Number(size[1]), heightMm: Number(size[2]) };
}
