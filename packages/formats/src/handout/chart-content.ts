import {
  barTicksOf,
  type Bar,
  type Chart,
  type Key,
  type Lesson,
  type Meter,
  type Midi,
  type PlannedSlot,
  type Position,
} from '@fivespan/core';
import { markOf, placeMarks, type PlaceMark } from '../diagram/index.ts';
import { freedomOf, type Freedom } from './freedom.ts';
import type { ChartBar, ChartSlot } from './chart-bar.ts';
import type { Tab } from './chord-symbol.ts';

/** What a chart shows under its chords. */
export interface ChartContent {
  readonly numerals: boolean;
  /** The family's thumbs (the route's solid), the route's thumb with the next one, or all that a free hand may take. */
  readonly tabs: 'family' | 'route' | 'free';
}

function familyTabs(slot: PlannedSlot, markOf: PlaceMark): Tab[] {
  const { family, position, thumbMidi } = slot;
  if (position === null) return [];
  const names = family === null ? [position.thumb] : family.positions.map((each) => each.thumb);
  return names.map((name) =>
    name === position.thumb
      ? { name, mark: markOf(position, thumbMidi), kind: 'now' }
      : { name, mark: markOf(position, null), kind: 'other' },
  );
}

function freeTabs(slot: PlannedSlot, { allowedAt, marks }: Freedom): Tab[] {
  return allowedAt(slot).flatMap(({ which, positions, family }) =>
    positions.map(({ thumb }): Tab => ({
      name: thumb,
      mark: markOf(marks, family.shape),
      kind: which === 'first' ? 'may' : 'second',
    })),
  );
}

function routeTabs({ position, thumbMidi }: PlannedSlot, markOf: PlaceMark): Tab[] {
  if (position === null) return [];
  return [{ name: position.thumb, mark: markOf(position, thumbMidi), kind: 'now' }];
}

/** The position the hand moves to at the end of a slot; null where it stays as it is, or the tune is over. */
function nextPlace(
  slot: PlannedSlot,
  slots: readonly PlannedSlot[],
): { readonly position: Position; readonly thumbMidi: Midi | null } | null {
  const next = slots.slice(slot.analysed.played.index + 1).find((each) => each.thumbMidi !== null);
  if (next === undefined || next.position === null) return null;
  const stays = next.thumbMidi === slot.thumbMidi && next.position.shape.id === slot.position?.shape.id;
  return stays ? null : { position: next.position, thumbMidi: next.thumbMidi };
}

function isPickupBar(bar: Bar): boolean {
  return bar.durationTicks < barTicksOf(bar.meter);
}

function chartSlot(
  slot: PlannedSlot,
  bar: Bar,
  content: ChartContent,
  lesson: Lesson,
  markOfPlace: PlaceMark,
  freedom: Freedom | null,
  before: Key,
): ChartSlot {
  const { key } = slot.analysed.reading;
  const written = slot.analysed.played.slot;
  const next = content.tabs === 'route' ? nextPlace(slot, lesson.plan.slots) : null;
  return {
    start: written.startTicks / bar.durationTicks,
    chord: written.chord,
    numeral: content.numerals ? slot.analysed.reading.numeral : '',
    key: key.tonic === before.tonic && key.mode === before.mode ? null : key,
    tabs:
      freedom !== null
        ? freeTabs(slot, freedom)
        : content.tabs === 'family'
          ? familyTabs(slot, markOfPlace)
          : routeTabs(slot, markOfPlace),
    next:
      next === null
        ? null
        : { name: next.position.thumb, mark: markOfPlace(next.position, next.thumbMidi), kind: 'next' },
  };
}

/** A bar to print, with the slots of one time it is played. */
interface ShownBar<Slot = PlannedSlot> {
  readonly bar: Bar;
  readonly sectionId: string;
  readonly sectionName: string | null;
  readonly slots: readonly Slot[];
}

function isSameMeter(a: Meter, b: Meter): boolean {
  return a.count === b.count && a.unit === b.unit;
}

/** The bars with what the lesson says of their slots. */
function lessonBars(shown: readonly ShownBar[], content: ChartContent, asWritten: boolean, lesson: Lesson): ChartBar[] {
  let { key } = lesson.analysis;
  const markOfPlace = placeMarks(lesson);
  const freedom = content.tabs === 'free' ? freedomOf(lesson) : null;
  return toChartBars(shown, asWritten, (slot, bar) => {
    const shownSlot = chartSlot(slot, bar, content, lesson, markOfPlace, freedom, key);
    if (shownSlot.numeral !== '') key = shownSlot.key ?? key;
    return shownSlot;
  });
}

function toChartBars<Slot>(
  shown: readonly ShownBar<Slot>[],
  asWritten: boolean,
  toSlot: (slot: Slot, bar: Bar) => ChartSlot,
): ChartBar[] {
  let meter: Meter | null = null;
  return shown.map((each, index) => {
    const { bar } = each;
    const before = shown[index - 1];
    const after = shown[index + 1];
    const begins =
      before === undefined || before.sectionId !== each.sectionId || (!asWritten && bar === firstOf(shown, each));
    const showsMeter = meter === null || !isSameMeter(meter, bar.meter);
    meter = bar.meter;
    return {
      bar,
      isPickup: isPickupBar(bar),
      slots: each.slots.map((slot) => toSlot(slot, bar)),
      section: begins ? (each.sectionName ?? '') : null,
      endsSection: after === undefined || after.sectionId !== each.sectionId,
      isLast: after === undefined,
      endingGoesOn:
        bar.endings.length > 0 && after !== undefined && after.bar.endings.length > 0 && !after.bar.startsEnding,
      meter: showsMeter ? bar.meter : null,
      asWritten,
    };
  });
}

/** The first bar of the section that a shown bar is in. */
function firstOf(shown: readonly ShownBar<unknown>[], each: ShownBar<unknown>): Bar | undefined {
  return shown.find((other) => other.sectionId === each.sectionId)?.bar;
}

/** The chart as it is written, each bar with what holds the first time it is played. */
export function writtenBars(lesson: Lesson, content: ChartContent): ChartBar[] {
  const slots = lesson.plan.slots;
  const firstPass = new Map<string, PlannedSlot[]>();
  const playedOf = new Map<string, number>();
  for (const slot of slots) {
    const { bar, index } = slot.analysed.played.playedBar;
    const first = playedOf.get(bar.id) ?? index;
    playedOf.set(bar.id, first);
    if (first === index) firstPass.set(bar.id, [...(firstPass.get(bar.id) ?? []), slot]);
  }
  const shown = lesson.chart.sections.flatMap((section) =>
    section.bars.map((bar) => ({
      bar,
      sectionId: section.id,
      sectionName: section.name,
      slots: firstPass.get(bar.id) ?? [],
    })),
  );
  return lessonBars(shown, content, true, lesson);
}

/** A chart as it is written, with its chords and nothing else. */
export function chordBars(chart: Chart): ChartBar[] {
  const shown = chart.sections.flatMap(({ id, name, bars }) =>
    bars.map((bar) => ({ bar, sectionId: id, sectionName: name, slots: bar.slots })),
  );
  return toChartBars(shown, true, ({ startTicks, chord }, bar) => ({
    start: startTicks / bar.durationTicks,
    chord,
    numeral: '',
    key: null,
    tabs: [],
    next: null,
  }));
}

/** The form as it is played, repeats written out. */
export function playedBars(lesson: Lesson, content: ChartContent): ChartBar[] {
  const slotsOf = new Map<number, PlannedSlot[]>();
  for (const slot of lesson.plan.slots) {
    const { index } = slot.analysed.played.playedBar;
    slotsOf.set(index, [...(slotsOf.get(index) ?? []), slot]);
  }
  const shown = lesson.analysis.form.bars.map((played) => ({
    bar: played.bar,
    sectionId: played.section.id,
    sectionName: played.section.name,
    slots: slotsOf.get(played.index) ?? [],
  }));
  return lessonBars(shown, content, false, lesson);
}

/** A position as a word that is the same for the same place and shape. */
function placeOf(place: Pick<PlannedSlot, 'position' | 'thumbMidi'> | null): string {
  if (place === null || place.position === null) return ' -';
  const { position, thumbMidi } = place;
  return ` ${position.shape.id} ${position.thumb} ${thumbMidi ?? ''}`;
}

/** Whether each written bar has the same thumbs every time it is played, the next one too; then the chart as written tells all. */
export function isSameEveryTime(lesson: Lesson): boolean {
  const thumbs = new Map<string, Map<number, string>>();
  for (const slot of lesson.plan.slots) {
    const { slot: written, playedBar } = slot.analysed.played;
    const passes = thumbs.get(written.id) ?? new Map<number, string>();
    passes.set(playedBar.index, placeOf(slot) + placeOf(nextPlace(slot, lesson.plan.slots)));
    thumbs.set(written.id, passes);
  }
  return [...thumbs.values()].every((passes) => new Set(passes.values()).size === 1);
}
