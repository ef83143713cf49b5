import { midi, typeset, type Chord, type ChordScale, type Lesson, type NoteName } from '@fivespan/core';
import {
  chordLine,
  degreeLabel,
  drawKeyboard,
  noteText,
  thumbsWithin,
  type DegreeLabel,
  type DiagramWords,
  type PlaceMark,
} from '../diagram/index.ts';
import type { Block } from './block.ts';
import { chordRuns } from './chord-symbol.ts';
import { SOFT, textRun, type Run, type TextRun } from './canvas.ts';
import { breakLines, type Line } from './paragraph.ts';
import type { Printing } from './printing.ts';
import {
  barRanges,
  otherThumbsOf,
  stretchesOf,
  type PositionUse,
  type Stretch,
  type UsedPosition,
} from './used-positions.ts';

/** How the pictures of positions are laid out. */
export interface PositionGrid {
  readonly columns: number;
  /** Degrees, shapes and chords are named; off for the play view. */
  readonly withTheory: boolean;
  readonly textPt: number;
  /** One chord under each picture, without its scale, where a page has little room. */
  readonly isBrief?: boolean;
}

const COLUMN_GAP_PT = 22;
/** Chords named under a picture before the rest is counted. */
const MOST_USES = 5;
/** Between what must stay on one line; three before a line that goes on. */
const NO_BREAK = '\u00A0';
const INDENT = NO_BREAK.repeat(3);

/** A picture with the words under it. */
interface Cell {
  readonly svg: string;
  /** What the picture shows, in words. */
  readonly alt: string;
  readonly aspect: number;
  readonly lines: readonly Line[];
}

/** A chord-scale's name as it is printed, with its root where that is not the chord's: `D♭ Mixolydian` over G7. */
function scaleText(chord: Chord, chordScale: ChordScale): string {
  const name = typeset(chordScale.name);
  return chordScale.scale.root === chord.root ? name : `${noteText(chordScale.scale.root)} ${name}`;
}

/** A degree, or a word about degrees, as it is set: bold a chord tone, italic a tension, ✕ before what rubs. */
export function degreeRun(text: string, kind: DegreeLabel['kind'], sizePt: number): TextRun {
  if (kind === 'tension') return textRun(text, 'serif-italic', sizePt, SOFT);
  return textRun(kind === 'rubs' ? `✕${text}` : text, 'sans-bold', sizePt);
}

/** What a note of a position is over a chord of its. */
function labelsOf(used: UsedPosition, use: PositionUse): DegreeLabel[] {
  return used.position.notes.map((note) => degreeLabel(use.chord, use.chordScale, note));
}

/** The kinds of degrees that the captions of these positions have. */
export function kindsOfDegrees(positions: readonly UsedPosition[]): Set<DegreeLabel['kind']> {
  return new Set(
    positions
      .flatMap((used) => used.uses.slice(0, MOST_USES).flatMap((use) => labelsOf(used, use)))
      .map((label) => label.kind),
  );
}

/** Between degrees, besides a space: `1 3 5` is never read as one number, bold beside italic or not. */
const DEGREE_GAP_EMS = 0.4;

/** What the five notes are over a chord, thumb first. */
function degreeRuns(used: UsedPosition, use: PositionUse, sizePt: number): Run[] {
  return labelsOf(used, use).map(({ text, kind }, index, all) => ({
    ...degreeRun(index === all.length - 1 ? text : `${text} `, kind, sizePt),
    gapPt: index === 0 ? 0 : sizePt * DEGREE_GAP_EMS,
  }));
}

function captionLines(
  { canvas, words }: Printing,
  used: UsedPosition,
  grid: PositionGrid,
  widthPt: number,
  markOf: PlaceMark,
): Line[] {
  const bold = (text: string): Run => textRun(text, 'sans-bold', grid.textPt);
  const plain = (text: string): Run => textRun(text, 'sans', grid.textPt);
  const soft = (text: string): Run => textRun(text, 'sans', grid.textPt, SOFT);
  const bars = [...new Set(used.uses.flatMap((use) => use.bars))].sort((a, b) => a - b);
  const counted = bars.filter((bar) => bar > 0);
  const { text, more } = barRanges(counted);
  const barText = words.bars(text, counted.length, bars.length > counted.length, more);
  const name = noteText(used.position.thumb) + markOf(used.position, used.thumbMidi);
  const also = used.otherNames.length === 0 ? '' : words.alsoNamed(used.otherNames.map(noteText));
  const lines = breakLines(canvas, [bold(words.thumb(name)), soft(`${also} · ${barText}`)], widthPt).slice();
  if (!grid.withTheory) return lines;
  const [first] = used.uses;
  if (grid.isBrief === true && first !== undefined) {
    const chord = [...chordRuns(first.chord, grid.textPt * 1.15), plain(NO_BREAK.repeat(2))];
    const degrees = degreeRuns(used, first, grid.textPt);
    if (canvas.widthOfAll([...chord, ...degrees]) <= widthPt) return [...lines, [...chord, ...degrees]];
    return [...lines, chord, degrees];
  }
  for (const use of used.uses.slice(0, MOST_USES)) {
    const name = chordLine(use.chord);
    const [before = '', after = ''] = `${words.over(name, scaleText(use.chord, use.chordScale))} `.split(name, 2);
    const over = [plain(before), ...chordRuns(use.chord, grid.textPt), plain(after)];
    const degrees = degreeRuns(used, use, grid.textPt);
    // the five degrees stay together: below, where they do not fit beside the chord
    if (canvas.widthOfAll([...over, ...degrees]) <= widthPt) lines.push([...over, ...degrees]);
    else lines.push(...breakLines(canvas, over, widthPt), [plain(INDENT), ...degrees]);
  }
  const rest = used.uses.length - MOST_USES;
  if (rest > 0) lines.push([soft(words.otherUses(rest))]);
  return lines;
}

function pictureOf(
  used: UsedPosition,
  stretch: Stretch,
  others: readonly NoteName[],
  mark: string,
  words: DiagramWords,
): string {
  const [lowest, highest] = [midi(stretch.lowest), midi(stretch.highest)];
  return drawKeyboard(
    {
      lowest,
      highest,
      hand: { position: used.position, thumbMidi: used.thumbMidi, mark },
      otherThumbs: thumbsWithin(others, lowest, highest).filter((each) => Math.abs(each.midi - used.thumbMidi) <= 9),
      degrees: [],
    },
    { tabRows: 1, words },
  );
}

/** Ten white keys or so, cut where it looks clean: at C or F, a key below the thumb. */
function briefStretch({ thumbMidi }: UsedPosition): Stretch {
  let lowest = thumbMidi - 1;
  while (lowest % 12 !== 0 && lowest % 12 !== 5) lowest--;
  return { lowest, highest: lowest + 17 };
}

/** A picture's own title and description. */
function describedBy(svg: string): string {
  return [...svg.matchAll(/<(?:title|desc)>([^<]*)</gu)].map((found) => found[1]).join(' ');
}

function aspectOf(svg: string): number {
  const box = /viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"/u.exec(svg);
  return Number(box?.[2]) / Number(box?.[1]);
}

/** Pictures of the positions in a grid, one block a row. */
export function positionBlocks(
  printing: Printing,
  positions: readonly UsedPosition[],
  grid: PositionGrid,
  markOf: PlaceMark,
): Block[] {
  const { frame, words } = printing;
  const columns = Math.min(grid.columns, Math.max(positions.length, 2));
  const widthPt = (frame.widthPt - (columns - 1) * COLUMN_GAP_PT) / columns;
  const stretches = grid.isBrief === true ? positions.map(briefStretch) : stretchesOf(positions);
  const cells: Cell[] = positions.map((used, index) => {
    const stretch = stretches[index] as Stretch;
    const svg = pictureOf(
      used,
      stretch,
      grid.withTheory && grid.isBrief !== true ? otherThumbsOf(used) : [],
      markOf(used.position, used.thumbMidi),
      words.diagram,
    );
    return {
      svg,
      alt: describedBy(svg),
      aspect: aspectOf(svg),
      lines: captionLines(printing, used, grid, widthPt, markOf),
    };
  });
  const leadingPt = grid.textPt * 1.42;
  const rows: Cell[][] = [];
  cells.forEach((cell, index) => {
    if (index % columns === 0) rows.push([]);
    rows.at(-1)!.push(cell);
  });
  return rows.map((row, rowIndex) => {
    const pictureHeight = Math.max(...row.map((cell) => cell.aspect)) * widthPt;
    const textHeight = Math.max(...row.map((cell) => cell.lines.length)) * leadingPt;
    return {
      heightPt: pictureHeight + 5 + textHeight,
      gapPt: rowIndex === 0 ? 4 : 12,
      keepWithNext: false,
      draw: (target, topPt) => {
        row.forEach((cell, column) => {
          const x = frame.leftPt + column * (widthPt + COLUMN_GAP_PT);
          target.tagged('Figure', () => target.svg(cell.svg, x, topPt, widthPt, cell.aspect * widthPt), cell.alt);
          target.tagged('P', () =>
            cell.lines.forEach((line, index) =>
              target.put(line, x, topPt + pictureHeight + 5 + leadingPt * (index + 0.76)),
            ),
          );
        });
      },
    };
  });
}

/** The chords for which the route has no position, each once. */
export function chordsWithoutPosition(lesson: Lesson): string[] {
  const chords = lesson.plan.slots.flatMap((slot) =>
    slot.position === null && slot.analysed.chord !== null ? [chordLine(slot.analysed.chord)] : [],
  );
  return [...new Set(chords)];
}
