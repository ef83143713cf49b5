import type { ChordSymbol, Key } from '../theory/index.ts';
import type { Meter } from './meter.ts';

/** Ids survive edits of the text: they are what a teacher's pins hold on to. */
export type BarId = string & { readonly __brand: 'BarId' };
export type SlotId = string & { readonly __brand: 'SlotId' };

/** A chord's place in a written bar. Ticks count from the bar's start. */
export interface Slot {
  readonly id: SlotId;
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly chord: ChordSymbol;
}

/** Where the music goes at the end of a bar, other than to the next. */
export type Jump =
  | { readonly kind: 'da capo'; readonly until: 'end' | 'fine' | 'coda' }
  | { readonly kind: 'dal segno'; readonly until: 'end' | 'fine' | 'coda' };

/** A written bar. */
export interface Bar {
  readonly id: BarId;
  /** As counted on paper: from 1, a pickup is 0. */
  readonly number: number;
  readonly meter: Meter;
  /** A key signature that begins here; null where it goes on. */
  readonly keyChange: Key | null;
  /** Shorter than the metre in a pickup only. */
  readonly durationTicks: number;
  readonly slots: readonly Slot[];
  readonly startsRepeat: boolean;
  /** How often the repeated stretch is played in all, where this bar ends it (2 is the usual); 0 elsewhere. */
  readonly endsRepeatTimes: number;
  /** Endings this bar belongs to: [1], [1, 2]; empty outside endings. */
  readonly endings: readonly number[];
  /** Whether a new ending bracket begins at this bar. */
  readonly startsEnding: boolean;
  readonly marks: { readonly segno: boolean; readonly coda: boolean; readonly fine: boolean; readonly toCoda: boolean };
  readonly jump: Jump | null;
}

/** A part of the form under one name (A, bridge), null where the chart names none. */
export interface Section {
  readonly id: string;
  readonly name: string | null;
  readonly bars: readonly Bar[];
}

export type Feel = 'swing' | 'even';

/** A chord chart as written. */
export interface Chart {
  /** Empty where the chart has none. */
  readonly title: string;
  /** The stated key; null lets the analysis find it. */
  readonly key: Key | null;
  /** The metre at the start, 4/4 where none is written. */
  readonly meter: Meter;
  /** Quarters a minute in simple metres, dotted quarters in compound ones (the metre's beat); null where none is written. */
  readonly tempoBpm: number | null;
  readonly feel: Feel;
  readonly sections: readonly Section[];
}

/** All written bars in order. */
export function barsOf(chart: Chart): Bar[] {
  return chart.sections.flatMap((section) => section.bars);
}
