import {
  barsOf,
  beatTicksOf,
  beatsOf,
  formatKey,
  formatJump,
  formatMeter,
  placesOf,
  type Bar,
  type BarPlace,
  type ChartPlaces,
  type ChordSymbol,
  type Issue,
} from '@fivespan/core';
import { computed } from 'nanostores';
import { $made } from '../open-lesson/index.ts';
import { $reading, type Reading } from './reading.ts';
import { kept } from './same-view.ts';

/** A chord as it stands in its bar. */
export interface ChordView {
  readonly chord: ChordSymbol;
  readonly ticks: number;
  /** ASCII; empty until it is computed. */
  readonly numeral: string;
  /** Goes on from the bar before: written `/`. */
  readonly goesOn: boolean;
}

/** A word of a bar that could not be read as it is written, or one beside it that could. */
export interface WordView {
  readonly text: string;
  readonly isFaulty: boolean;
}

/** All that is shown of a bar; the same object as long as nothing of it changes. */
export interface BarView {
  readonly index: number;
  readonly number: number;
  /** Its words, where one of them is wrong; else its chords are shown. */
  readonly faultyWords: readonly WordView[] | null;
  readonly chords: readonly ChordView[];
  /** `%` */
  readonly isRepeated: boolean;
  readonly beats: number;
  /** A metre or key that begins here. */
  readonly meter: string | null;
  readonly key: string | null;
  readonly startsRepeat: boolean;
  /** 0 where no `:|` stands. */
  readonly endsRepeatTimes: number;
  /** The numbers written here; empty where no ending begins. */
  readonly endingStarts: readonly number[];
  readonly isInEnding: boolean;
  readonly endsEnding: boolean;
  readonly isDoubleAfter: boolean;
  /** Whether it is the last one. */
  readonly endsChart: boolean;
  readonly marksBefore: readonly ('segno' | 'coda')[];
  readonly marksAfter: readonly ('to coda' | 'fine')[];
  readonly jump: string | null;
  readonly issues: readonly Issue[];
}

export interface SectionView {
  readonly index: number;
  readonly name: string | null;
  readonly bars: readonly BarView[];
}

export interface PageView {
  readonly sections: readonly SectionView[];
  readonly bars: readonly BarView[];
  readonly places: ChartPlaces;
  /** What is wrong outside bars: headings, sections. */
  readonly otherIssues: readonly Issue[];
}

const NO_PLACES: ChartPlaces = { bars: [], sections: [], headers: [], lineStarts: [0] };
export const EMPTY_PAGE: PageView = { sections: [], bars: [], places: NO_PLACES, otherIssues: [] };

/** Numerals by slot, with the chord as written: the first time through. The same in every key it is shown in. */
const $numerals = computed($made, (made) => {
  const numerals = new Map<string, { readonly symbol: string; readonly numeral: string }>();
  if (made === null) return numerals;
  const slots = barsOf(made.chart).flatMap((bar) => bar.slots);
  const symbols = new Map(slots.map(({ id, chord }) => [id, chord.symbol]));
  for (const { played, reading } of made.lesson.analysis.slots) {
    const { id } = played.slot;
    if (!numerals.has(id)) numerals.set(id, { symbol: symbols.get(id) ?? '', numeral: reading.numeral });
  }
  return numerals;
});

let lastPlaces: { readonly text: string; readonly places: ChartPlaces } | undefined;

/** Where everything of a text is written; asked again for the same text, it is not read again. */
export function placesIn(text: string): ChartPlaces {
  if (lastPlaces?.text !== text) lastPlaces = { text, places: placesOf(text) };
  return lastPlaces.places;
}

/** Where everything of the open chart's text is written. */
export const $places = computed($reading, (reading): ChartPlaces =>
  reading === null ? NO_PLACES : placesIn(reading.chartText),
);

/** What is the same for every bar: to build one view after the other. */
interface Sources {
  readonly text: string;
  readonly issues: ReadonlyMap<number, readonly Issue[]>;
  readonly numerals: ReadonlyMap<string, { readonly symbol: string; readonly numeral: string }>;
  readonly lineStarts: readonly number[];
}

/** Where an issue stands in the text. */
export function offsetOf(text: string, lineStarts: readonly number[], { place }: Issue): number {
  const start = lineStarts[(place.line ?? 1) - 1] ?? 0;
  const column = (place.column ?? 1) - 1;
  // columns count characters, not units of UTF-16
  return (
    start +
    Array.from(text.slice(start, start + 2 * column))
      .slice(0, column)
      .join('').length
  );
}

function faultyWordsOf(place: BarPlace, issues: readonly Issue[], sources: Sources): WordView[] | null {
  const offsets = issues.map((issue) => offsetOf(sources.text, sources.lineStarts, issue));
  const words = place.cells.map(({ text, start, end }) => ({
    text,
    isFaulty: offsets.some((offset) => offset >= start && offset < end),
  }));
  return words.some((word) => word.isFaulty) ? words : null;
}

function viewOf(place: BarPlace, bar: Bar, before: Bar | undefined, after: Bar | undefined, sources: Sources): BarView {
  const issues = sources.issues.get(place.number) ?? [];
  const [firstCell] = place.cells;
  const meter = formatMeter(bar.meter);
  const lineAfter = place.lineAfter === null ? '' : sources.text.slice(place.lineAfter.start, place.lineAfter.end);
  const times = Number(/\d+/u.exec(lineAfter)?.[0] ?? 2);
  const marks = new Set(place.marks.map(({ mark }) => mark));
  return {
    index: Number(place.id.slice(1)) - 1,
    number: place.number,
    faultyWords: faultyWordsOf(place, issues, sources),
    chords: bar.slots.map(({ id, chord, durationTicks }, slot) => {
      const known = sources.numerals.get(id);
      return {
        chord,
        ticks: durationTicks,
        numeral: known?.symbol === chord.symbol ? known.numeral : '',
        goesOn: slot === 0 && firstCell?.text.startsWith('/') === true,
      };
    }),
    isRepeated: firstCell?.text === '%' || firstCell?.text === '𝄎',
    beats: Math.round(bar.durationTicks / beatTicksOf(bar.meter)) || beatsOf(bar.meter),
    meter: before === undefined || formatMeter(before.meter) === meter ? null : meter,
    key: bar.keyChange === null ? null : formatKey(bar.keyChange),
    startsRepeat: place.opensRepeat,
    endsRepeatTimes: place.closesRepeat ? times : 0,
    endingStarts: place.ending?.numbers ?? [],
    isInEnding: bar.endings.length > 0 || place.ending !== null,
    endsEnding:
      bar.endings.length > 0 &&
      (place.closesRepeat || after === undefined || after.startsEnding || after.endings.length === 0),
    isDoubleAfter: lineAfter.includes('||'),
    endsChart: after === undefined,
    marksBefore: (['segno', 'coda'] as const).filter((mark) => marks.has(mark)),
    marksAfter: (['to coda', 'fine'] as const).filter((mark) => marks.has(mark)),
    jump: place.jumps[0] === undefined ? null : formatJump(place.jumps[0].jump),
    issues,
  };
}

function pageOf(reading: Reading, places: ChartPlaces, numerals: Sources['numerals'], last: PageView): PageView {
  const read = reading.chart === null ? [] : barsOf(reading.chart);
  const byBar = new Map<number, Issue[]>();
  const otherIssues: Issue[] = [];
  for (const issue of reading.issues) {
    const { bar } = issue.place;
    if (bar === undefined) otherIssues.push(issue);
    else byBar.set(bar, [...(byBar.get(bar) ?? []), issue]);
  }
  const sources: Sources = { text: reading.chartText, issues: byBar, numerals, lineStarts: places.lineStarts };
  const bars = places.bars.flatMap((place, index) => {
    const bar = read[index];
    if (bar === undefined) return [];
    return [kept(last.bars[index], viewOf(place, bar, read[index - 1], read[index + 1], sources))];
  });
  const sections = places.sections.map(({ name, firstBar, barCount }, index) => {
    const view: SectionView = {
      index,
      name: name === null ? null : reading.chartText.slice(name.start, name.end),
      bars: bars.slice(firstBar, firstBar + barCount),
    };
    const before = last.sections[index];
    const isSame =
      before?.name === view.name &&
      before.bars.length === view.bars.length &&
      before.bars.every((bar, at) => bar === view.bars[at]);
    return isSame ? before : view;
  });
  return { sections, bars, places, otherIssues };
}

let lastPage: { readonly id: string; readonly page: PageView } | undefined;

/** The chart as a page of bars. Bars and sections that did not change are the same objects as before. */
export const $page = computed([$reading, $places, $numerals], (reading, places, numerals): PageView => {
  if (reading === null) return EMPTY_PAGE;
  const page = pageOf(reading, places, numerals, lastPage?.id === reading.id ? lastPage.page : EMPTY_PAGE);
  lastPage = { id: reading.id, page };
  return page;
});
