import { noteName, type Chart, type InstrumentKey, type Lesson } from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import { fitPages, type Block } from './block.ts';
import { Canvas } from './canvas.ts';
import { chartBlocks } from './chart-block.ts';
import { chordBars } from './chart-content.ts';
import type { HandoutOptions } from './handout.ts';
import { musicBlocks } from './music-block.ts';
import {
  drawFooter,
  headingBlock,
  missingCharacterBlocks,
  noteRuns,
  titleLineBlock,
  titleOf,
  type Footer,
} from './page-frame.ts';
import { bytesOf, PAPERS, PdfDocument } from './pdf-document.ts';
import { frameOf } from './printing.ts';
import { ROOMY } from './setting.ts';
import { ENGLISH } from './words.ts';

/** A part to print: the chart as its reader has it. */
export interface PrintedPart {
  /** The key the instrument is in; null for one that reads bass clef at concert pitch. */
  readonly instrument: InstrumentKey | null;
  /** In the written key, which it states. */
  readonly chart: Chart;
}

/** Read from a stand, by one who does not know the tune. */
const CHART_TYPE = { chordPt: 21, numeralPt: 0, tabPt: 4, barsInRow: 4 };

/**
 * A part as a PDF for a member of the band: the changes as written, large, in the reader's key, and the concert key beside
 * it. Who reads bass clef has the walking bass below. The same bytes for the same lesson on every machine.
 * @param lesson in the key that sounds
 * @throws TypeError where the part's chart states no key
 * @example const pdf = await writePart(lesson, { instrument: 'Bb', chart }, { paper: 'a4', engraver, fonts });
 */
export async function writePart(
  lesson: Lesson,
  { instrument, chart }: PrintedPart,
  options: Omit<HandoutOptions, 'view'>,
): Promise<Uint8Array> {
  if (chart.key === null) throw new TypeError('chart must state its key');
  const { paper, engraver, fonts } = options;
  const words = options.words ?? ENGLISH;
  const nameOf = ({ tonic, mode }: NonNullable<Chart['key']>): string => words.key(noteText(tonic), mode);
  const part = words.part(instrument === null ? null : noteText(noteName(instrument)));
  const written = nameOf(chart.key);
  const concert = words.concert(nameOf(lesson.analysis.key));
  const isAtPitch = chart.key.tonic === lesson.analysis.key.tonic;
  const key = isAtPitch ? concert : `${written} (${concert})`;

  const document = new PdfDocument(`${titleOf(lesson, words)} · ${part}`, words.language);
  const canvas = new Canvas(document, fonts);
  const frame = frameOf(paper);
  const printing = { canvas, engraver, frame, words };
  const blocks: Block[] = [
    titleLineBlock(printing, lesson, { key, page: part, right: '', sizePt: 12.5 }),
    ...missingCharacterBlocks(printing, lesson),
    ...chartBlocks(printing, chordBars(chart), CHART_TYPE),
  ];
  if (instrument === null) {
    const music = musicBlocks(printing, lesson.score, words.walkingBass, {
      parts: ['left hand'],
      numerals: false,
      fingers: false,
      thumbs: false,
      tabMarks: [],
      staffHeightMm: ROOMY.staffMm.play,
    });
    if (music.length > 0) {
      blocks.push(headingBlock(printing, words.walkingBass, noteRuns(words.walkingBassNote)), ...music);
    }
  }
  const footer: Footer = { page: `${key} · ${part}`, made: '' };
  const pages = fitPages(blocks, frame.topPt, frame.bottomPt);
  for (const [index, page] of pages.entries()) {
    document.addPage({ size: [...PAPERS[paper]], margin: 0 });
    for (const { block, topPt } of page) block.draw(canvas, topPt);
    drawFooter(printing, lesson, footer, index + 1, pages.length);
  }
  canvas.close();
  return await bytesOf(document);
}
