import { nearestOf } from '../edit-distance.ts';
import { severityOf, type Issue, type Result } from '../issue/index.ts';
import { readChordSymbol, type ChordSymbol, type Key } from '../theory/index.ts';
import { directionsOf } from './bar-directions.ts';
import { stretchesOf, type Stretch } from './bar-slots.ts';
import { barTextsOf, type BarText, type MusicItem } from './bar-text.ts';
import { emptyHeading, LONGEST_NAME, readHeader, type Heading } from './chart-heading.ts';
import { classifyLine, HEADER_NAMES, type ChartLine, type HeaderName } from './chart-line.ts';
import type { Bar, BarId, Chart, Jump, Section, SlotId } from './chart.ts';
import { formLengthOf, LONGEST_FORM_BARS } from './form/unfold.ts';
import { columnsOf } from './column.ts';
import { issueList, type IssueList } from './issue-list.ts';
import { jumpFaultsOf } from './jump-faults.ts';
import { barTicksOf, beatsOf, beatTicksOf, type Meter } from './meter.ts';
import { understandRepeats, type RepeatPlace, type RepeatSigns } from './repeat-signs.ts';

/** A longer text is no chart; it is refused unread. */
export const LONGEST_CHART_CHARACTERS = 500_000;
export const MOST_CHART_BARS = 10_000;
/** A repeat is played from twice to this often. */
export const MOST_REPEAT_TIMES = 32;

type Writable<Type> = { -readonly [Property in keyof Type]: Type[Property] };

/** A bar as read; its repeat signs are understood when all bars are there. */
interface DraftBar {
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
  /** Where its marks, its jump and the `:|` after it stand. */
  readonly signPlaces: { [Sign in keyof Bar['marks'] | 'jump' | 'closing']?: Issue['place'] };
}

interface DraftSection {
  readonly name: string | null;
  readonly bars: DraftBar[];
  readonly line: number;
  readonly column: number;
}

/** How far reading has come. */
interface Reading {
  readonly issues: IssueList;
  readonly heading: Heading;
  readonly headersSeen: Set<HeaderName>;
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

/** Reads chord symbols, each spelling once: a chart has few of them, many times. */
function rememberingReader(): Reading['readSymbol'] {
  const known = new Map<string, Result<ChordSymbol>>();
  return (text) => {
    const before = known.get(text);
    if (before !== undefined) return before;
    const read = readChordSymbol(text);
    known.set(text, read);
    return read;
  };
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
  reading.sections.push({ name, bars: [], line: reading.line, column: reading.columnOf(start) });
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
    return [];
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
  if (directions.meter !== null) reading.meter = directions.meter;
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
    section = { name: null, bars: [], line: reading.line, column: 1 };
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
      readBar(reading, { cells: [], start: item.start, opensRepeat: false });
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

/** What is wrong when the last line is read: structure, and what never came. */
function readEnd(reading: Reading): readonly RepeatPlace[] {
  const { issues, bars, sections, waiting } = reading;
  const placeOf = (index: number): Issue['place'] => {
    const bar = bars[index] as DraftBar;
    return { line: bar.line, column: bar.column, bar: bar.number };
  };
  const last = sections.at(-1);
  if (last !== undefined && last.bars.length === 0 && bars.length > 0) {
    issues.add('chart.nothing-follows', { name: last.name ?? '' }, { line: last.line, column: last.column });
    sections.pop();
  }
  if (waiting !== null) issues.add('chart.nothing-follows', { name: waiting.name }, waiting.place);
  if (bars.length === 0) {
    issues.add('chart.empty', {}, { line: 1, column: 1 });
    return [];
  }
  if (reading.opensRepeat) issues.add('chart.repeat-unclosed', {}, reading.openedPlace);
  const { places, faults } = understandRepeats(
    bars.map((bar) => bar.signs),
    bars[0]?.number === 0 ? 1 : 0,
  );
  for (const { code, args, bar, isClosing } of faults) {
    const from = args.fromIndex === undefined ? {} : { from: bars[Number(args.fromIndex)]?.number ?? 1 };
    issues.add(code, { ...args, ...from }, (isClosing ? bars[bar]?.signPlaces.closing : undefined) ?? placeOf(bar));
  }
  const marked = bars.map((bar, index) => ({ ...(places[index] as RepeatPlace), marks: bar.marks, jump: bar.jump }));
  for (const { code, args, bar, sign } of jumpFaultsOf(marked)) {
    issues.add(code, args, bars[bar]?.signPlaces[sign] ?? placeOf(bar));
  }
  return places;
}

function finishBar(draft: DraftBar, index: number, place: RepeatPlace): Bar {
  const id = `b${index + 1}`;
  return {
    id: id as BarId,
    number: draft.number,
    meter: draft.meter,
    keyChange: draft.keyChange,
    durationTicks: draft.durationTicks,
    slots: draft.stretches.map((stretch, slot) => ({ id: `${id}.${slot + 1}` as SlotId, ...stretch })),
    ...place,
    marks: draft.marks,
    jump: draft.jump,
  };
}

/**
 * Reads a chart's text (docs/chart.md). All that is wrong with it is reported at once, with line, column and bar; a
 * chart that is read can be unfolded. Any text gives a chart or issues, never an exception. Time grows with its length.
 * Ids are b1, b2 … for bars, b1.1, b1.2 … for slots, in the order of the text; keepIds carries those of an earlier
 * reading over.
 * @example readChart('Fm7 | Bb7 | Ebmaj7')
 */
export function readChart(text: string): Result<Chart> {
  if (text.length > LONGEST_CHART_CHARACTERS) {
    return {
      ok: false,
      issues: [{ code: 'chart.too-large', args: { limit: LONGEST_CHART_CHARACTERS }, place: {} }],
    };
  }
  const heading = emptyHeading();
  const reading: Reading = {
    issues: issueList(),
    heading,
    headersSeen: new Set(),
    pickupPlace: {},
    sections: [],
    bars: [],
    meter: heading.meter,
    keyChange: null,
    waiting: null,
    opensRepeat: false,
    openedPlace: {},
    lastChord: null,
    readSymbol: rememberingReader(),
    lineText: '',
    line: 0,
    columnOf: columnsOf(''),
  };
  for (const lineText of text.replace(/^\uFEFF/u, '').split(/\r\n|\n|\r/u)) {
    reading.lineText = lineText;
    reading.line++;
    reading.columnOf = columnsOf(lineText);
    readLine(reading);
    if (reading.bars.length > MOST_CHART_BARS) {
      const args = { limit: MOST_CHART_BARS };
      return { ok: false, issues: [{ code: 'chart.too-many-bars', args, place: { line: reading.line } }] };
    }
  }
  const places = readEnd(reading);
  const issues = reading.issues.sorted();
  const errors = issues.filter((issue) => severityOf(issue) === 'error');
  // what is odd about a chart is told when it can be read: until then it may follow from an error
  if (errors.length > 0) return { ok: false, issues: errors };

  let index = 0;
  const sections: Section[] = reading.sections.map((section, place) => ({
    id: `s${place + 1}`,
    name: section.name,
    bars: section.bars.map((bar) => finishBar(bar, index, places[index++] as RepeatPlace)),
  }));
  const { title, key, meter, tempoBpm, feel } = heading;
  const chart: Chart = { title, key, meter, tempoBpm, feel, sections };
  if (formLengthOf(chart) > LONGEST_FORM_BARS) {
    return { ok: false, issues: [{ code: 'chart.form-too-long', args: { limit: LONGEST_FORM_BARS }, place: {} }] };
  }
  return { ok: true, value: chart, warnings: issues };
}
