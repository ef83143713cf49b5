import {
  beatTicksOf,
  modulo,
  TICKS_PER_QUARTER,
  type Bar,
  type Chart,
  type Jump,
  type Key,
  type Meter,
  type Section,
} from '@fivespan/core';
import { harmonyElement } from './harmony.ts';
import { metricalGrid } from './metrical-grid.ts';
import { segmentsOf, type Segment } from './notated-value.ts';
import { beatUnit, keyElement, MUSICXML_DOCTYPE, timeElement } from './score-document.ts';
import { element, serialise, type XmlElement } from './xml.ts';

/** A bar with what stands around it. */
interface PlacedBar {
  readonly bar: Bar;
  readonly section: Section;
  readonly isFirstOfSection: boolean;
  readonly before: Bar | undefined;
  readonly after: Bar | undefined;
  /** Whether a section begins after it. */
  readonly endsSection: boolean;
}

function placedBars(chart: Chart): PlacedBar[] {
  const all = chart.sections.flatMap((section) => section.bars.map((bar, index) => ({ section, bar, index })));
  return all.map(({ section, bar, index }, place) => ({
    bar,
    section,
    isFirstOfSection: index === 0,
    before: all[place - 1]?.bar,
    after: all[place + 1]?.bar,
    endsSection: all[place + 1]?.index === 0,
  }));
}

function direction(types: readonly XmlElement[], sound?: XmlElement): XmlElement {
  return element(
    'direction',
    { placement: 'above' },
    types.map((each) => element('direction-type', {}, each)),
    sound,
  );
}

const JUMP_WORDS = { 'da capo': 'D.C.', 'dal segno': 'D.S.' } as const;
const UNTIL_WORDS = { end: '', fine: ' al Fine', coda: ' al Coda' } as const;

function jumpDirection(jump: Jump): XmlElement {
  const words = element('words', {}, JUMP_WORDS[jump.kind] + UNTIL_WORDS[jump.until]);
  const where = jump.kind === 'da capo' ? { dacapo: 'yes' } : { dalsegno: 'segno' };
  return direction([words], element('sound', where));
}

/** Signs that stand where a bar begins. */
function openingDirections({ bar, section, isFirstOfSection }: PlacedBar): XmlElement[] {
  const directions: XmlElement[] = [];
  if (isFirstOfSection && section.name !== null) {
    directions.push(direction([element('rehearsal', { enclosure: 'square' }, section.name)]));
  }
  if (bar.marks.segno) directions.push(direction([element('segno', {})], element('sound', { segno: 'segno' })));
  if (bar.marks.coda) directions.push(direction([element('coda', {})], element('sound', { coda: 'coda' })));
  return directions;
}

/** Signs that stand where it ends. */
function closingDirections({ bar }: PlacedBar): XmlElement[] {
  const directions: XmlElement[] = [];
  if (bar.marks.toCoda) {
    directions.push(direction([element('words', {}, 'To Coda')], element('sound', { tocoda: 'coda' })));
  }
  if (bar.marks.fine) directions.push(direction([element('words', {}, 'Fine')], element('sound', { fine: 'yes' })));
  if (bar.jump !== null) directions.push(jumpDirection(bar.jump));
  return directions;
}

function tempoDirections(chart: Chart): XmlElement[] {
  const words = element('words', { 'font-weight': 'bold' }, chart.feel === 'swing' ? 'Swing' : 'Even');
  const swing =
    chart.feel === 'swing'
      ? [element('first', {}, 2), element('second', {}, 1), element('swing-type', {}, 'eighth')]
      : [element('straight', {})];
  if (chart.tempoBpm === null) return [direction([words], element('sound', {}, element('swing', {}, swing)))];
  const quarters = (chart.tempoBpm * beatTicksOf(chart.meter)) / TICKS_PER_QUARTER;
  const metronome = element('metronome', {}, beatUnit(chart.meter), element('per-minute', {}, chart.tempoBpm));
  return [direction([words, metronome], element('sound', { tempo: quarters }, element('swing', {}, swing)))];
}

function isSameMeter(a: Meter, b: Meter): boolean {
  return a.count === b.count && a.unit === b.unit;
}

/** How a lead sheet is written for one who plays it. */
export interface LeadSheetOptions {
  /** The clef it begins with; treble where it is left out. */
  readonly clef?: 'treble' | 'bass';
  /** The key that sounds, for an instrument that is written in another; null or left out for concert pitch. */
  readonly concertKey?: Key | null;
}

const CLEFS = { treble: ['G', 2], bass: ['F', 4] } as const;

/** A fifth up is four letters up; letters from one note name down to another, 0 to 6. */
function lettersDown(fromFifths: number, toFifths: number): number {
  return modulo((fromFifths - toFifths) * 4, 7);
}

/** From the written key down to the one that sounds, octaves apart counted as one. */
function transposeElement(written: Key, sounding: Key): XmlElement | false {
  const chromatic = modulo((written.tonic - sounding.tonic) * 7, 12);
  const diatonic = lettersDown(written.tonic, sounding.tonic);
  if (chromatic === 0) return false;
  return element('transpose', {}, element('diatonic', {}, -diatonic), element('chromatic', {}, -chromatic));
}

function attributesOf({ bar, before }: PlacedBar, key: Key | null, options: LeadSheetOptions): XmlElement | false {
  const [sign, line] = CLEFS[options.clef ?? 'treble'];
  const { concertKey = null } = options;
  const opening = before === undefined;
  const newKey = opening ? key : bar.keyChange;
  const isNewMeter = opening || !isSameMeter(before.meter, bar.meter);
  if (!opening && newKey === null && !isNewMeter) return false;
  return element(
    'attributes',
    {},
    opening && element('divisions', {}, TICKS_PER_QUARTER),
    newKey !== null && keyElement(newKey),
    isNewMeter && timeElement(bar.meter),
    opening && element('clef', {}, element('sign', {}, sign), element('line', {}, line)),
    opening && key !== null && concertKey !== null && transposeElement(key, concertKey),
    // programs draw a slash on every beat: the hand that reads this makes its own rhythm
    opening && element('measure-style', {}, element('slash', { type: 'start', 'use-stems': 'no' })),
  );
}

function rest(segment: Segment): XmlElement {
  return element(
    'note',
    {},
    element('rest', {}),
    element('duration', {}, segment.endTicks - segment.startTicks),
    element('voice', {}, 1),
    element('type', {}, segment.type),
    segment.dots === 1 && element('dot', {}),
    segment.isTriplet &&
      element('time-modification', {}, element('actual-notes', {}, 3), element('normal-notes', {}, 2)),
  );
}

/** A slot's length as rests; a length that no rests can say is one forward step. */
function restsOf(bar: Bar, startTicks: number, endTicks: number): XmlElement[] {
  const grid = metricalGrid(bar.meter);
  const shift = grid.barTicks - bar.durationTicks;
  const isWritable = startTicks % 60 === 0 && endTicks % 60 === 0 && shift >= 0;
  if (!isWritable) return [element('forward', {}, element('duration', {}, endTicks - startTicks))];
  return segmentsOf(grid, startTicks + shift, endTicks + shift, 'rest', []).map(rest);
}

function contentOf(bar: Bar): XmlElement[] {
  const [only] = bar.slots;
  const isOneChord = bar.slots.length === 1 && only?.startTicks === 0 && bar.number !== 0;
  if (bar.slots.length === 0 || isOneChord) {
    const wholeRest = element(
      'note',
      {},
      element('rest', { measure: 'yes' }),
      element('duration', {}, bar.durationTicks),
      element('voice', {}, 1),
    );
    return only === undefined ? [wholeRest] : [harmonyElement(only.chord, 0, 1, 'exchange'), wholeRest];
  }
  return bar.slots.flatMap((slot) => [
    harmonyElement(slot.chord, 0, 1, 'exchange'),
    ...restsOf(bar, slot.startTicks, slot.startTicks + slot.durationTicks),
  ]);
}

function leftBarline({ bar }: PlacedBar): XmlElement | false {
  if (!bar.startsRepeat && !bar.startsEnding) return false;
  return element(
    'barline',
    { location: 'left' },
    bar.startsRepeat && element('bar-style', {}, 'heavy-light'),
    bar.startsEnding && element('ending', { number: bar.endings.join(','), type: 'start' }),
    bar.startsRepeat && element('repeat', { direction: 'forward' }),
  );
}

function rightBarline({ bar, after, endsSection }: PlacedBar): XmlElement | false {
  const endsEnding =
    bar.endings.length > 0 && (after === undefined || after.startsEnding || after.endings.length === 0);
  const endsRepeat = bar.endsRepeatTimes > 0;
  const style =
    endsRepeat || after === undefined ? 'light-heavy' : endsSection && bar.number !== 0 ? 'light-light' : undefined;
  if (style === undefined && !endsEnding) return false;
  return element(
    'barline',
    { location: 'right' },
    style !== undefined && element('bar-style', {}, style),
    endsEnding && element('ending', { number: bar.endings.join(','), type: endsRepeat ? 'stop' : 'discontinue' }),
    endsRepeat &&
      element('repeat', { direction: 'backward', times: bar.endsRepeatTimes > 2 ? bar.endsRepeatTimes : undefined }),
  );
}

function measureElement(placed: PlacedBar, chart: Chart, options: LeadSheetOptions): XmlElement {
  const { bar, before } = placed;
  return element(
    'measure',
    { number: bar.number, implicit: bar.number === 0 ? 'yes' : undefined },
    leftBarline(placed),
    attributesOf(placed, chart.key, options),
    before === undefined && tempoDirections(chart),
    openingDirections(placed),
    contentOf(bar),
    closingDirections(placed),
    rightBarline(placed),
  );
}

/** The first staff line of a chart without bars: MusicXML has no part without a measure. */
function emptyMeasure(chart: Chart): XmlElement {
  return element(
    'measure',
    { number: 1 },
    element('attributes', {}, element('divisions', {}, TICKS_PER_QUARTER), timeElement(chart.meter)),
  );
}

/**
 * The chart as a lead sheet in MusicXML 4.0, partwise: chord symbols over slashes, with keys, metres, pickup, repeats,
 * endings, jumps and sections. readMusicXml gives the same chart back, with ids of its own. The same chart gives the
 * same bytes.
 * @example const text = writeLeadSheet(chart)
 */
export function writeLeadSheet(chart: Chart, options: LeadSheetOptions = {}): string {
  const bars = placedBars(chart);
  const root = element(
    'score-partwise',
    { version: '4.0' },
    chart.title !== '' && element('work', {}, element('work-title', {}, chart.title)),
    element('identification', {}, element('encoding', {}, element('software', {}, 'Fivespan'))),
    element('part-list', {}, element('score-part', { id: 'P1' }, element('part-name', {}, 'Lead sheet'))),
    element(
      'part',
      { id: 'P1' },
      bars.length === 0 ? [emptyMeasure(chart)] : bars.map((placed) => measureElement(placed, chart, options)),
    ),
  );
  return serialise(root, MUSICXML_DOCTYPE);
}
