import type { Cell, LineSpan } from '../bar-text.ts';
import type { MarkName } from '../bar-directions.ts';
import { readText, type DraftBar, type TextReading } from '../chart-reading.ts';
import type { BarId, Jump } from '../chart.ts';
import type { HeaderName } from '../chart-line.ts';

/** A stretch of a text: its first index, in units of UTF-16, and the one after its last. */
export interface TextSpan {
  readonly start: number;
  readonly end: number;
}

/** Where a bar is written. */
export interface BarPlace {
  /** As readChart and readAround have it. */
  readonly id: BarId;
  readonly number: number;
  /** Its line, from 1. */
  readonly line: number;
  /** The index of its section in `sections`. */
  readonly section: number;
  /** The bar lines round it on its line, with their signs and counts; null where the line's edge is one. */
  readonly lineBefore: TextSpan | null;
  readonly lineAfter: TextSpan | null;
  /** Whether a `|:` stands before it, and a `:|` after it; perhaps on the line before or after its own. */
  readonly opensRepeat: boolean;
  readonly closesRepeat: boolean;
  /** From its first word to its last; nothing, before its bar line, where it has none. */
  readonly words: TextSpan;
  /** From its first chord to its last; where it has none, nothing where one would stand. */
  readonly chords: TextSpan;
  /** Its chords, beats and signs of repetition one by one, and words that are not understood. */
  readonly cells: readonly (TextSpan & { readonly text: string })[];
  readonly ending: (TextSpan & { readonly numbers: readonly number[] }) | null;
  /** A time signature written in the bar. */
  readonly meter: TextSpan | null;
  readonly marks: readonly (TextSpan & { readonly mark: MarkName })[];
  readonly jumps: readonly (TextSpan & { readonly jump: Jump })[];
}

/** Where a section's name is written; `name` is null where it has none. */
export interface SectionPlace {
  readonly name: TextSpan | null;
  readonly firstBar: number;
  readonly barCount: number;
}

/** A heading line, or a key or metre line between two lines of music. */
export interface HeaderPlace {
  readonly header: HeaderName;
  readonly text: string;
  readonly value: TextSpan;
  /** Its whole line without the line's end. */
  readonly line: TextSpan;
  readonly barsBefore: number;
}

/** Where everything of a chart is written: what edits of its text go by. */
export interface ChartPlaces {
  readonly bars: readonly BarPlace[];
  readonly sections: readonly SectionPlace[];
  readonly headers: readonly HeaderPlace[];
  /** Where each line of the text begins. */
  readonly lineStarts: readonly number[];
}

const cellEnd = (cell: Cell): number => cell.start + cell.text.length;

function placeOfBar(draft: DraftBar, index: number, section: number, lineStart: number): BarPlace {
  const { directions, text } = draft;
  const span = (start: number, end: number): TextSpan => ({ start: lineStart + start, end: lineStart + end });
  const ofCells = (first: Cell, last: Cell): TextSpan => span(first.start, cellEnd(last));
  const ofLine = (line: LineSpan | null): TextSpan | null => (line === null ? null : span(line.start, line.end));
  const firstWord = text.cells[0];
  const lastWord = text.cells.at(-1);
  // what is not understood is put right where the chords are
  const faulty = directions.faults.map((fault) => fault.cell);
  const cells = [...directions.cells, ...faulty].toSorted((a, b) => a.start - b.start);
  const [first] = cells;
  const last = cells.at(-1);
  const words =
    firstWord === undefined || lastWord === undefined
      ? span(text.lineBefore?.end ?? text.start, text.lineBefore?.end ?? text.start)
      : ofCells(firstWord, lastWord);
  const lead = directions.meter?.cell ?? directions.ending?.cell;
  const noChords = lead === undefined ? words.start : lineStart + cellEnd(lead);
  return {
    id: `b${index + 1}` as BarId,
    number: draft.number,
    line: draft.line,
    section,
    lineBefore: ofLine(text.lineBefore),
    lineAfter: ofLine(text.lineAfter),
    opensRepeat: draft.signs.opensRepeat,
    closesRepeat: draft.signs.closesRepeat !== null,
    words,
    chords: first === undefined || last === undefined ? { start: noChords, end: noChords } : ofCells(first, last),
    cells: cells.map((cell) => ({ ...ofCells(cell, cell), text: cell.text })),
    ending:
      directions.ending === null
        ? null
        : { ...ofCells(directions.ending.cell, directions.ending.cell), numbers: directions.ending.numbers },
    meter: directions.meter === null ? null : ofCells(directions.meter.cell, directions.meter.cell),
    marks: directions.marks.map(({ mark, cell, last: end }) => ({ ...ofCells(cell, end), mark })),
    jumps: directions.jumps.map(({ jump, cell, last: end }) => ({ ...ofCells(cell, end), jump })),
  };
}

function headersOf({ headers, lines, lineStarts }: TextReading): HeaderPlace[] {
  return headers.map(({ name, value, line, barsBefore }) => {
    const lineText = lines[line - 1] as string;
    const lineStart = lineStarts[line - 1] as number;
    const valueAt = lineText.length - lineText.slice(lineText.indexOf(':') + 1).trimStart().length;
    return {
      header: name,
      text: value,
      value: { start: lineStart + valueAt, end: lineStart + valueAt + value.length },
      line: { start: lineStart, end: lineStart + lineText.length },
      barsBefore,
    };
  });
}

/**
 * Where everything of a chart's text is written. Its bars are those readChart and readAround give, in the same order.
 * @param text at most LONGEST_CHART_CHARACTERS
 * @example placesOf('Fm7 | Bb7').bars[1]?.chords // → { start: 6, end: 9 }
 */
export function placesOf(text: string): ChartPlaces {
  const reading = readText(text);
  const { lineStarts } = reading;
  let index = 0;
  const bars: BarPlace[] = [];
  const sections = reading.sections.map(({ name, bars: drafts, line, start }, section): SectionPlace => {
    const firstBar = index;
    for (const draft of drafts) bars.push(placeOfBar(draft, index++, section, lineStarts[draft.line - 1] as number));
    const nameStart = (lineStarts[line - 1] as number) + start;
    return {
      name: name === null ? null : { start: nameStart, end: nameStart + name.length },
      firstBar,
      barCount: drafts.length,
    };
  });
  return { bars, sections, headers: headersOf(reading), lineStarts };
}

/**
 * The place of a bar.
 * @throws RangeError where the chart has no such bar
 */
export function barPlaceAt(places: ChartPlaces, index: number): BarPlace {
  const bar = places.bars[index];
  if (bar === undefined) throw new RangeError(`index must be a bar's, from 0 to ${places.bars.length - 1}`);
  return bar;
}
