import {
  barsOf,
  beatsOf,
  formatKey,
  formatMeter,
  parseKey,
  readMeter,
  type HeaderName,
  type Issue,
  type Key,
  type MarkName,
} from '@fivespan/core';
import { computed } from 'nanostores';
import { $chosenBar } from './editing.ts';
import { $page, $places, type BarView, type PageView } from './page-view.ts';
import { $reading, type Reading } from './reading.ts';
import { kept } from './same-view.ts';
import { $keyNow } from './transposing.ts';

/** What the chart says above its first bar. The same object as long as it says the same: typing a chord changes none of it. */
export interface HeadingView {
  readonly title: string;
  readonly tempo: string;
  /** As it is written back where it is understood, else as it stands. */
  readonly meter: string;
  readonly key: string;
  readonly isKeyRead: boolean;
  /** The key the analysis found where none is stated; null until it has. */
  readonly keyFound: Key | null;
  readonly feel: 'swing' | 'even';
  /** In beats; empty for none. */
  readonly pickup: string;
  readonly beats: number;
  readonly hasBars: boolean;
  /** What is wrong with a heading: what stands on its line. */
  readonly faults: readonly { readonly name: HeaderName; readonly issues: readonly Issue[] }[];
}

const HEADINGS = ['title', 'key', 'tempo', 'meter', 'feel', 'pickup'] as const;

function headingOf({ chart }: Reading, page: PageView, keyNow: ReturnType<typeof $keyNow.get>): HeadingView {
  const { lineStarts } = page.places;
  const headings = page.places.headers.filter(({ barsBefore }) => barsBefore === 0);
  const textOf = (name: HeaderName): string => headings.find(({ header }) => header === name)?.text ?? '';
  const faults = HEADINGS.map((name) => {
    const starts = headings.filter(({ header }) => header === name).map(({ line }) => line.start);
    const isOnIt = (line: number): boolean => starts.includes(lineStarts[line - 1] ?? -1);
    return { name, issues: page.otherIssues.filter(({ place }) => place.line !== undefined && isOnIt(place.line)) };
  }).filter(({ issues }) => issues.length > 0);
  const meterText = textOf('meter');
  const readable = readMeter(meterText);
  const meter = chart?.meter ?? readable ?? { count: 4, unit: 4 };
  const key = parseKey(textOf('key'));
  return {
    title: textOf('title'),
    tempo: textOf('tempo'),
    meter: readable !== undefined ? formatMeter(readable) : meterText === '' ? formatMeter(meter) : meterText,
    key: key === undefined ? textOf('key') : formatKey(key),
    isKeyRead: key !== undefined,
    keyFound: keyNow !== null && !keyNow.isStated ? keyNow.key : null,
    feel: chart?.feel ?? (textOf('feel').toLowerCase() === 'even' ? 'even' : 'swing'),
    pickup: textOf('pickup'),
    beats: beatsOf(meter),
    hasBars: page.bars.length > 0,
    faults,
  };
}

let lastHeading: HeadingView | undefined;
export const $heading = computed([$reading, $page, $keyNow], (reading, page, keyNow): HeadingView | null => {
  if (reading === null) return null;
  lastHeading = kept(lastHeading, headingOf(reading, page, keyNow));
  return lastHeading;
});

/** What there is beside the chords of the chosen bar. The same object while its chords are written. */
export interface BarToolsView extends Pick<
  BarView,
  'index' | 'number' | 'key' | 'startsRepeat' | 'endsRepeatTimes' | 'endingStarts' | 'jump'
> {
  /** Of the section that begins here; empty where none does, or it has no name. */
  readonly sectionName: string;
  readonly marks: readonly MarkName[];
  readonly meter: string;
  /** Whether the metre is written here, and the one that goes on otherwise. */
  readonly isMeterWritten: boolean;
  readonly meterBefore: string;
}

let lastTools: BarToolsView | undefined;
/** Null at the place for a new bar. */
export const $barTools = computed([$reading, $page, $places, $chosenBar], (reading, page, places, index) => {
  const bar = page.bars[index];
  const place = places.bars[index];
  const chart = reading?.chart ?? null;
  if (bar === undefined || place === undefined || chart === null) return null;
  const bars = barsOf(chart);
  const section = places.sections[place.section];
  const isMeterLine = places.headers.some(({ header, barsBefore }) => header === 'meter' && barsBefore === index);
  const view: BarToolsView = {
    index,
    number: bar.number,
    key: bar.key,
    startsRepeat: bar.startsRepeat,
    endsRepeatTimes: bar.endsRepeatTimes,
    endingStarts: bar.endingStarts,
    jump: bar.jump,
    sectionName: section?.firstBar === index ? (page.sections[place.section]?.name ?? '') : '',
    marks: place.marks.map(({ mark }) => mark),
    meter: formatMeter(bars[index]?.meter ?? chart.meter),
    isMeterWritten: place.meter !== null || (index > 0 && isMeterLine),
    meterBefore: formatMeter(bars[index - 1]?.meter ?? chart.meter),
  };
  lastTools = kept(lastTools, view);
  return lastTools;
});
