import { nearestOf } from '../edit-distance.ts';
import type { Issue, Result } from '../issue/index.ts';
import { readChordSymbol, type ChordSymbol, type Key } from '../theory/index.ts';
import { directionsOf, type Directions } from './bar-directions.ts';
import { emptyStretches, stretchesOf, type Stretch } from './bar-slots.ts';
import { barTextsOf, type BarText, type MusicItem } from './bar-text.ts';
import { emptyHeading, LONGEST_NAME, readHeader, type Heading } from './chart-heading.ts';
import { classifyLine, HEADER_NAMES, type ChartLine, type HeaderName } from './chart-line.ts';
import type { Bar, Jump } from './chart.ts';
import { columnsOf } from './column.ts';
import { issueList, type IssueList } from './issue-list.ts';
import { barTicksOf, beatsOf, beatTicksOf, type Meter } from './meter.ts';
import { type RepeatSigns } from './repeat-signs.ts';

/** A longer text is no chart; it is refused unread. */
export const LONGEST_CHART_CHARACTERS = 500_000;
export const MOST_CHART_BARS = 10_000;
/** A repeat is played from twice to this often. */
export const MOST_REPEAT_TIMES = 32;

type Writable<Type> = { -readonly [Property in keyof Type]: Type[Property] };

/** A bar as read; its repeat signs are understood when all bars are there. */
export interface DraftBar {
  readonly number: number;
  readonly meter: Meter;
  readonly keyChange: Key | null;
  readonly durationTicks: number;
  readonly stretches: readonly Stretch[];
  readonly marks: Writable<Bar['marks']>;
  readonly jump: Jump | null;
  readonly signs: Writable<RepeatSigns>;
  readonly line: number;
  readonly column: number;
  /** Where its words and bar lines stand in its line. */
  readonly text: BarText;
  readonly directions: Directions;
  /** Where its marks, its jump and the `:|` after it stand. */
  readonly signPlaces: { [Sign in keyof Bar['marks'] | 'jump' | 'closing']?: Issue['place'] };
}

export interface DraftSection {
  readonly name: string | null;
  readonly bars: DraftBar[];
  readonly line: number;
  readonly column: number;
  /** Index of its name in the line. */
  readonly start: number;
}

/** A heading line, or a key or metre line between two lines of music. */
export interface DraftHeader {
  readonly name: HeaderName;
  readonly value: string;
  readonly line: number;
  /** Index of its value in the line. */
  readonly valueStart: number;
  /** How many bars stand before it. */
  readonly barsBefore: number;
}

/** How far reading has come. */
interface Reading {
  readonly issues: IssueList;
  readonly heading: Heading;
  readonly headersSeen: Set<HeaderName>;
  readonly headers: DraftHeader[];
  pickupPlace: Issue['place'];
  readonly sections: DraftSection[];
  readonly bars: DraftBar[];
  meter: Meter;
  /** A key signature for the next bar. */
  keyChange: Key | null;
  /** A key or metre line inside the chart that waits for its bar. */
  waiting: { readonly name: string; readonly place: Issue['place'] } | null;
  /** A `|:` at the end of a line waits for its bar. */
  opensRepeat: boolean;
  openedPlace: Issue['place'];
  lastChord: ChordSymbol | null;
  readonly readSymbol: (text: string) => Result<ChordSymbol>;
  lineText: string;
  line: number;
  /** Columns of the line being read. */
  columnOf: (start: number) => number;
}

/**
 * Spellings read lately. A chart has few of them, many times, and is read anew with each key that is typed, when all but one
 * are as before; to look for the nearest of one that is not understood takes longer than to read all others.
 */
const spellings = new Map<string, Result<ChordSymbol>>();
const MOST_SPELLINGS = 2_000;
const LONGEST_SPELLING = 60;

function readSpelling(text: string): Result<ChordSymbol> {
  const before = spellings.get(text);
  if (before !== undefined) return before;
  const read = readChordSymbol(text);
  if (spellings.size >= MOST_SPELLINGS) spellings.clear();
  if (text.length <= LONGEST_SPELLING) spellings.set(text, read);
  return read;
}

const placeAt = (reading: Reading, start: number): Issue['place'] => ({
  line: reading.line,
  column: reading.columnOf(start),
});

/** The number of the next bar: from 1, a pickup is 0. */
function nextNumber(reading: Reading): number {
  return reading.bars.length + (reading.heading.pickupBeats > 0 ? 0 : 1);
}

function readHeaderLine(reading: Reading, line: Extract<ChartLine, { kind: 'header' }>): void {
  const { heading, headersSeen, issues } = reading;
  const name = line.name as HeaderName;
  const place = placeAt(reading, line.valueStart);
  const { valueStart } = line;
  reading.headers.push({ name, value: line.value, line: reading.line, valueStart, barsBefore: reading.bars.length });
  const isLate = reading.bars.length > 0;
  if (isLate && name !== 'key' && name !== 'meter') {
    issues.add('chart.header-late', { name }, placeAt(reading, 0));
    return;
  }
  if (!isLate && headersSeen.has(name)) {
    issues.add('chart.header-twice', { name }, placeAt(reading, 0));
    return;
  }
  if (!isLate) headersSeen.add(name);
  const target = isLate ? emptyHeading() : heading;
  const fault = readHeader(target, name, line.value);
  if (fault !== undefined) {
    issues.add(fault.code, fault.args, place);
    return;
  }
  if (name === 'meter') reading.meter = target.meter;
  if (name === 'pickup') reading.pickupPlace = place;
  if (isLate) {
    if (name === 'key') reading.keyChange = target.key;
    reading.waiting = { name, place: placeAt(reading, 0) };
  }
}

function openSection(reading: Reading, name: string, start: number): void {
  const last = reading.sections.at(-1);
  const lastBar = reading.bars.at(-1);
  if (lastBar !== undefined) lastBar.signs.closesEnding = true;
  if (last !== undefined && last.bars.length === 0) {
    reading.issues.add('chart.nothing-follows', { name: last.name ?? '' }, { line: last.line, column: last.column });
    reading.sections.pop();
  }
  if (name.length > LONGEST_NAME) {
    reading.issues.add('chart.name-too-long', { what: "section's name", limit: LONGEST_NAME }, placeAt(reading, start));
  }
  reading.sections.push({ name, bars: [], line: reading.line, column: reading.columnOf(start), start });
}

function readStretches(
  reading: Reading,
  cells: BarText['cells'],
  durationTicks: number,
  start: number,
): readonly Stretch[] {
  const number = nextNumber(reading);
  const fault = (code: Issue['code'], args: Issue['args'], at: number): readonly Stretch[] => {
    reading.issues.add(code, args, { ...placeAt(reading, at), bar: number });
    return emptyStretches(durationTicks);
  };
  const sign = cells.find((cell) => cell.text === '%' || cell.text === '𝄎');
  if (sign !== undefined) {
    const before = reading.bars.at(-1);
    if (cells.length > 1) return fault('chart.repeat-bar-alone', {}, sign.start);
    if (before === undefined) return fault('chart.nothing-before', { cell: sign.text }, sign.start);
    if (before.durationTicks !== durationTicks) return fault('chart.repeat-bar-length', {}, sign.start);
    return before.stretches;
  }
  if (cells.length === 0) return fault('chart.bar-empty', {}, start);
  const shared = stretchesOf(
    cells,
    { durationTicks, beatTicks: beatTicksOf(reading.meter), start: cells[0]?.start ?? start },
    reading.lastChord,
    reading.readSymbol,
  );
  for (const { code, args, start: at } of shared.faults) fault(code, args, at);
  return shared.stretches;
}

function readBar(reading: Reading, text: BarText): void {
  const { issues, heading } = reading;
  const number = nextNumber(reading);
  const at = (start: number): Issue['place'] => ({ ...placeAt(reading, start), bar: number });
  const directions = directionsOf(text.cells);
  for (const { code, args, cell } of directions.faults) issues.add(code, args, at(cell.start));
  if (directions.meter !== null) reading.meter = directions.meter.meter;
  const { meter } = reading;
  // a metre written into the very first bar is the chart's
  if (reading.bars.length === 0) heading.meter = meter;

  const marks = { segno: false, coda: false, fine: false, toCoda: false };
  const signPlaces: DraftBar['signPlaces'] = {};
  for (const { mark, cell } of directions.marks) {
    const field = mark === 'to coda' ? 'toCoda' : mark;
    if (marks[field]) issues.add('chart.mark-twice', { mark }, at(cell.start));
    marks[field] = true;
    signPlaces[field] ??= at(cell.start);
  }
  const [jump, ...moreJumps] = directions.jumps;
  if (jump !== undefined) signPlaces.jump = at(jump.cell.start);
  for (const { cell } of moreJumps) issues.add('chart.mark-twice', { mark: 'D.C. or D.S.' }, at(cell.start));

  let durationTicks = barTicksOf(meter);
  if (number === 0) {
    if (heading.pickupBeats >= beatsOf(meter)) {
      const args = { value: heading.pickupBeats, beats: beatsOf(meter) };
      issues.add('chart.pickup', args, reading.pickupPlace);
    } else {
      durationTicks = heading.pickupBeats * beatTicksOf(meter);
    }
  }
  const stretches = readStretches(reading, directions.cells, durationTicks, text.start);
  reading.lastChord = stretches.at(-1)?.chord ?? reading.lastChord;
  let section = reading.sections.at(-1);
  if (section === undefined) {
    section = { name: null, bars: [], line: reading.line, column: 1, start: 0 };
    reading.sections.push(section);
  }
  const bar: DraftBar = {
    number,
    meter,
    keyChange: reading.keyChange,
    durationTicks,
    stretches,
    marks,
    jump: jump?.jump ?? null,
    signs: {
      opensRepeat: text.opensRepeat,
      closesRepeat: null,
      ending: directions.ending?.numbers ?? null,
      closesEnding: false,
    },
    line: reading.line,
    column: reading.columnOf(text.start),
    text,
    directions,
    signPlaces,
  };
  reading.keyChange = null;
  reading.waiting = null;
  section.bars.push(bar);
  reading.bars.push(bar);
}

function readMusicItem(reading: Reading, item: MusicItem): void {
  const lastBar = reading.bars.at(-1);
  switch (item.kind) {
    case 'bar':
      readBar(reading, item.bar);
      return;
    case 'empty bar':
      // it counts as a bar, so that the numbers of those after it are right
      readBar(reading, item.bar);
      return;
    case 'double bar':
      if (lastBar !== undefined) lastBar.signs.closesEnding = true;
      return;
    case 'repeat end': {
      const place = placeAt(reading, item.start);
      const { times } = item;
      if (times !== null && (times < 2 || times > MOST_REPEAT_TIMES)) {
        reading.issues.add('chart.repeat-times', { times }, { ...place, bar: lastBar?.number ?? 1 });
      }
      if (lastBar === undefined) reading.issues.add('chart.repeat-unopened', {}, place);
      else {
        lastBar.signs.closesRepeat = { times };
        lastBar.signPlaces.closing = { ...place, bar: lastBar.number };
      }
    }
  }
}

function readLine(reading: Reading): void {
  const line = classifyLine(reading.lineText);
  if (line.kind === 'nothing') return;
  if (line.kind === 'header') {
    readHeaderLine(reading, line);
    return;
  }
  if (line.kind === 'stray') {
    const nearest = nearestOf(line.name.toLowerCase().slice(0, 16), HEADER_NAMES) as string;
    reading.issues.add('chart.header-unknown', { name: line.name, nearest }, placeAt(reading, line.start));
    return;
  }
  if (line.kind === 'bare section') {
    const remedy = `${line.name}: | ${reading.lineText.slice(line.musicStart).trim()}`;
    reading.issues.add('chart.section-line', { name: line.name, remedy }, placeAt(reading, line.start));
  }
  if (line.kind !== 'music') openSection(reading, line.name, line.start);
  const { items, opensRepeat, openedAt } = barTextsOf(reading.lineText, line.musicStart, reading.opensRepeat);
  reading.opensRepeat = opensRepeat;
  if (openedAt !== null) reading.openedPlace = placeAt(reading, openedAt);
  for (const item of items) {
    readMusicItem(reading, item);
    if (reading.bars.length > MOST_CHART_BARS) return;
  }
}

/** What is left when the last line is read. */
function readEnd(reading: Reading): void {
  const { issues, bars, sections, waiting } = reading;
  const last = sections.at(-1);
  if (last !== undefined && last.bars.length === 0 && bars.length > 0) {
    issues.add('chart.nothing-follows', { name: last.name ?? '' }, { line: last.line, column: last.column });
    sections.pop();
  }
  if (waiting !== null) issues.add('chart.nothing-follows', { name: waiting.name }, waiting.place);
  if (bars.length === 0) issues.add('chart.empty', {}, { line: 1, column: 1 });
  else if (reading.opensRepeat) issues.add('chart.repeat-unclosed', {}, reading.openedPlace);
}

/** A chart's text read line by line, before anybody has asked whether its repeats and jumps fit together. */
export interface TextReading {
  readonly heading: Readonly<Heading>;
  readonly headers: readonly DraftHeader[];
  readonly sections: readonly DraftSection[];
  /** The bars of all sections. */
  readonly bars: readonly DraftBar[];
  readonly issues: IssueList;
  /** The line on which the text has more bars than are read; null where it has not. */
  readonly cutAtLine: number | null;
  /** Index in the text where each line begins, and the lines. */
  readonly lineStarts: readonly number[];
  readonly lines: readonly string[];
}

/** Cuts a text into lines, with where each begins; a byte order mark belongs to none. */
function linesOf(text: string): Pick<TextReading, 'lineStarts' | 'lines'> {
  const lineStarts = [text.startsWith('\uFEFF') ? 1 : 0];
  const lines: string[] = [];
  for (const { index, 0: end } of text.matchAll(/\r\n|\n|\r/gu)) {
    lines.push(text.slice(lineStarts.at(-1), index));
    lineStarts.push(index + end.length);
  }
  lines.push(text.slice(lineStarts.at(-1)));
  return { lineStarts, lines };
}

/**
 * Reads a chart's text line by line. Time grows with its length.
 * @param text at most LONGEST_CHART_CHARACTERS
 */
export function readText(text: string): TextReading {
  const heading = emptyHeading();
  const reading: Reading = {
    issues: issueList(),
    heading,
    headersSeen: new Set(),
    headers: [],
    pickupPlace: {},
    sections: [],
    bars: [],
    meter: heading.meter,
    keyChange: null,
    waiting: null,
    opensRepeat: false,
    openedPlace: {},
    lastChord: null,
    readSymbol: readSpelling,
    lineText: '',
    line: 0,
    columnOf: columnsOf(''),
  };
  const { lineStarts, lines } = linesOf(text);
  let cutAtLine: number | null = null;
  for (const lineText of lines) {
    reading.lineText = lineText;
    reading.line++;
    reading.columnOf = columnsOf(lineText);
    readLine(reading);
    if (reading.bars.length <= MOST_CHART_BARS) continue;
    cutAtLine = reading.line;
    break;
  }
  if (cutAtLine === null) readEnd(reading);
  const { headers, sections, bars, issues } = reading;
  return { heading, headers, sections, bars, issues, cutAtLine, lineStarts, lines };
}
