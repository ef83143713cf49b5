import {
  beatTicksOf,
  DRILLS,
  DRILL_WORDS,
  listenForOf,
  stavesOfDrill,
  wordsOfLimit,
  type Drill,
  type DrillInKey,
} from '@fivespan/core';
import { noteText, tabMarksOf } from '../diagram/index.ts';
import { fitPages, type Block } from './block.ts';
import { Canvas, INK, textRun, type Run } from './canvas.ts';
import type { HandoutOptions } from './handout.ts';
import { musicBlocks } from './music-block.ts';
import {
  drawFooter,
  headingBlock,
  missingCharacterBlocks,
  noteRuns,
  paragraphBlocks,
  titleLineBlock,
  titleOf,
  type Footer,
} from './page-frame.ts';
import { bytesOf, PAPERS, PdfDocument } from './pdf-document.ts';
import { frameOf, type Printing } from './printing.ts';
import { ROOMY } from './setting.ts';
import { ENGLISH, type HandoutWords } from './words.ts';

const TEXT_PT = 9.5;

const keyText = ({ key }: DrillInKey, words: HandoutWords): string => words.key(noteText(key.tonic), key.mode);

/** The limit in words, with the key's name as the page has it. */
function limitText({ ladder, keys }: Drill, words: HandoutWords): string {
  const { because } = ladder;
  if (because === null) return '';
  const bound = keys.find(
    ({ lesson }) => lesson.chorus.length > 0 && keyId(lesson.analysis.key) === because.args['key'],
  );
  return words.drill.limit(ladder.limitBpm, wordsOfLimit(because, bound === undefined ? '' : keyText(bound, words)));
}

const keyId = ({ tonic, mode }: DrillInKey['key']): string =>
  `${noteText(tonic)} ${mode}`.replace('♭', 'b').replace('♯', '#');

/** What is played, what to listen for, and the tempi. */
function introduction(printing: Printing, drill: Drill): Block[] {
  const { words } = printing;
  const { sentence } = DRILL_WORDS[drill.order.kind];
  const [first] = drill.keys;
  const plain = (text: string): Run => textRun(text, 'sans', TEXT_PT);
  const beatTicks = first === undefined ? 0 : beatTicksOf(first.lesson.score.meter);
  const tempi: Run[] = [
    plain(`${words.drill.tempi} `),
    { kind: 'beat', ticks: beatTicks, sizePt: TEXT_PT * 1.2, colour: INK },
    plain(`\u00A0= ${drill.ladder.tempi.join(', ')}. ${limitText(drill, words)}`),
  ];
  return [
    ...paragraphBlocks(printing, [plain(sentence)], 4),
    ...paragraphBlocks(printing, [plain(`${words.drill.listenFor} ${listenForOf(drill).join(' ')}`)], 4),
    ...paragraphBlocks(printing, tempi, 4),
    ...paragraphBlocks(printing, [plain(words.cautions.join(' '))], 4),
  ];
}

function barsText({ order }: Drill, words: HandoutWords): string {
  const { bars } = order;
  return bars === null
    ? words.drill.wholeTune
    : words.bars(bars.from === bars.to ? `${bars.from}` : `${bars.from}–${bars.to}`, bars.to - bars.from + 1, false, 0);
}

/** One key under its name. */
function keyBlocks(printing: Printing, drill: Drill, inKey: DrillInKey): Block[] {
  const { words } = printing;
  const { inPositions } = DRILLS[drill.order.kind];
  const parts = stavesOfDrill(drill);
  const name = keyText(inKey, words);
  const music = musicBlocks(printing, inKey.lesson.score, `${DRILL_WORDS[drill.order.kind].name}, ${name}`, {
    parts,
    numerals: false,
    fingers: true,
    thumbs: inPositions,
    tabMarks: inPositions ? tabMarksOf(inKey.lesson) : [],
    staffHeightMm: parts.length > 1 ? ROOMY.staffMm.grand : ROOMY.staffMm.alone,
  });
  return music.length === 0 ? [] : [headingBlock(printing, name, noteRuns('')), ...music];
}

/**
 * A drill as a PDF: what it is, what to listen for and at which tempi, then every key under its name. The same bytes for the same
 * drill on every machine. Between two steps, a key each, other work may be done.
 * @returns the steps; the last gives the bytes
 */
export function* drillSheetSteps(
  drill: Drill,
  options: Omit<HandoutOptions, 'view'>,
): Generator<void, Promise<Uint8Array>, undefined> {
  const { paper, engraver, fonts } = options;
  const words = options.words ?? ENGLISH;
  const [first] = drill.keys;
  if (first === undefined) throw new RangeError('drill must have at least one key');
  const { name } = DRILL_WORDS[drill.order.kind];
  const { lesson } = first;
  const document = new PdfDocument(`${titleOf(lesson, words)} · ${name}`, words.language);
  const canvas = new Canvas(document, fonts);
  const frame = frameOf(paper);
  const printing = { canvas, engraver, frame, words };
  const keys = drill.keys.length === 1 ? keyText(first, words) : words.drill.keys(drill.keys.length);
  // the head's tempo is where the ladder ends
  const headed = {
    ...lesson,
    score: { ...lesson.score, tempoBpm: drill.ladder.tempi.at(-1) ?? lesson.score.tempoBpm },
  };
  const blocks: Block[] = [
    titleLineBlock(printing, headed, {
      key: keys,
      page: words.drill.page,
      right: words.hand(lesson.choices.hand),
      sizePt: 10,
    }),
    ...missingCharacterBlocks(printing, lesson),
    headingBlock(printing, name, noteRuns(barsText(drill, words))),
    ...introduction(printing, drill),
  ];
  for (const each of drill.keys) {
    blocks.push(...keyBlocks(printing, drill, each));
    yield;
  }
  const footer: Footer = {
    page: `${name} · ${keys}`,
    made: words.made(lesson.choices.level, lesson.choices.seed),
  };
  const pages = fitPages(blocks, frame.topPt, frame.bottomPt);
  for (const [index, page] of pages.entries()) {
    document.addPage({ size: [...PAPERS[paper]], margin: 0 });
    for (const { block, topPt } of page) block.draw(canvas, topPt);
    drawFooter(printing, lesson, footer, index + 1, pages.length);
  }
  canvas.close();
  return bytesOf(document);
}

/**
 * A drill as a PDF at one go (see drillSheetSteps).
 * @example const pdf = await writeDrillSheet(drill, { paper: 'a4', engraver, fonts });
 */
export async function writeDrillSheet(drill: Drill, options: Omit<HandoutOptions, 'view'>): Promise<Uint8Array> {
  const steps = drillSheetSteps(drill, options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return await step.value;
  }
}
