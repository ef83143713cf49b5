import {
  formatKey,
  type Bar,
  type CadenceKind,
  type ChordSymbol,
  type Choices,
  type Key,
  type Lesson,
  type NoteName,
  type PlannedSlot,
  type Position,
} from '@fivespan/core';
import { placeMarks, type PlaceMark } from '@fivespan/formats/diagram';
import { isPinned } from './pins.ts';
import { nameOf, type SlotName } from './study.ts';

/** A chord of the chart with what is found about it. */
export interface SlotView {
  readonly name: SlotName;
  /** Index of the slot in the form. */
  readonly index: number;
  /** Where it stands in its bar and how much of it it takes, 0 to 1. */
  readonly from: number;
  readonly share: number;
  readonly beat: number;
  readonly chord: ChordSymbol;
  /** ASCII; empty for N.C. */
  readonly numeral: string;
  readonly key: Key;
  /** `mark` tells the shape, as on the lesson's pages. */
  readonly thumbs: readonly { readonly name: NoteName; readonly mark: string; readonly isHere: boolean }[];
  readonly scaleName: string | null;
  readonly isInside: boolean;
  readonly isPinned: boolean;
  /** Figures it is part of. */
  readonly figures: readonly Figure[];
}

/** A bar as written, as it reads one of the times it is played. */
export interface BarView {
  readonly bar: Bar;
  /** Its place among the bars shown. */
  readonly place: number;
  /** How many times it is played. */
  readonly passes: number;
  readonly slots: readonly SlotView[];
}

/** A part of the chart under one name. */
export interface SectionView {
  readonly id: string;
  readonly name: string | null;
  readonly bars: readonly BarView[];
}

/** A figure that chords make together. */
export interface Figure {
  readonly kind: CadenceKind;
  readonly key: Key;
}

/** A stretch of the chart, in bars from its start: 2.5 is the middle of the third bar. */
interface Stretch {
  readonly fromBar: number;
  readonly toBar: number;
}

export interface RegionView extends Stretch {
  readonly key: Key;
}

export interface FigureView extends Stretch, Figure {}

/** The written chart with everything found about it. */
export interface ChartView {
  readonly sections: readonly SectionView[];
  readonly regions: readonly RegionView[];
  /** Cadences and other figures of a few chords. */
  readonly figures: readonly FigureView[];
  /** Figures that are the form itself: a blues. */
  readonly forms: readonly Figure[];
}

const FORMS: ReadonlySet<CadenceKind> = new Set(['blues', 'minor blues', 'rhythm form']);

interface Shown {
  readonly planned: PlannedSlot;
  readonly fromBar: number;
  readonly toBar: number;
}

/**
 * A lesson's chart as it is written. Bars that are played several times are shown as they read at one of them.
 * @param pass which; bars that are played less often are shown as they read the last time
 */
export function chartView(lesson: Lesson, pins: Choices['pins'], pass: number): ChartView {
  const { analysis, plan, chart } = lesson;
  const markOf = placeMarks(lesson);
  const bySlot = new Map<string, PlannedSlot[]>();
  for (const each of plan.slots) {
    const { id } = each.analysed.played.slot;
    const list = bySlot.get(id);
    if (list === undefined) bySlot.set(id, [each]);
    else list.push(each);
  }
  const shown = new Map<number, Shown>();
  const found: PlannedSlot[] = [];
  let place = 0;
  const placed = chart.sections.map((section) => ({
    section,
    bars: section.bars.map((bar) => {
      const here = place++;
      const slots = bar.slots.flatMap((slot) => {
        const times = bySlot.get(slot.id) ?? [];
        const planned = times[Math.min(pass, times.length) - 1];
        if (planned === undefined) return [];
        const { index } = planned.analysed.played;
        const from = slot.startTicks / bar.durationTicks;
        const share = slot.durationTicks / bar.durationTicks;
        shown.set(index, { planned, fromBar: here + from, toBar: here + from + share });
        found.push(planned);
        return [{ planned, from, share }];
      });
      const passes = Math.max(0, ...bar.slots.map((slot) => bySlot.get(slot.id)?.length ?? 0));
      return { bar, place: here, passes, slots };
    }),
  }));

  const figures: FigureView[] = [];
  const forms: Figure[] = [];
  const ofSlot = new Map<number, Figure[]>();
  const seen = new Set<string>();
  for (const { kind, key, slots } of analysis.cadences) {
    const identity = `${kind} ${formatKey(key)}`;
    if (FORMS.has(kind)) {
      if (!seen.has(identity)) forms.push({ kind, key });
      seen.add(identity);
      continue;
    }
    const all = slots.map((index) => shown.get(index));
    const [first, last] = [all[0], all.at(-1)];
    // a figure over a repeat sign is not one line on paper
    const isOnPaper = all.every((each, at) => {
      const before = all[at - 1];
      return each !== undefined && (before === undefined || before.fromBar < each.fromBar);
    });
    if (!isOnPaper || first === undefined || last === undefined) continue;
    figures.push({ kind, key, fromBar: first.fromBar, toBar: last.toBar });
    for (const index of slots) ofSlot.set(index, [...(ofSlot.get(index) ?? []), { kind, key }]);
  }

  const regions: RegionView[] = [];
  for (const { analysed } of found) {
    const { key } = analysed.reading;
    const { fromBar, toBar } = shown.get(analysed.played.index) as Shown;
    const open = regions.at(-1);
    if (open !== undefined && formatKey(open.key) === formatKey(key)) regions[regions.length - 1] = { ...open, toBar };
    else regions.push({ key, fromBar, toBar });
  }

  return {
    sections: placed.map(({ section, bars }) => ({
      id: section.id,
      name: section.name,
      bars: bars.map(({ slots, ...bar }) => ({
        ...bar,
        slots: slots.map(({ planned, from, share }): SlotView => {
          const { analysed, chordScale, family } = planned;
          const name = nameOf(planned);
          return {
            name,
            index: analysed.played.index,
            from,
            share,
            beat: analysed.played.beat,
            chord: analysed.played.slot.chord,
            numeral: analysed.reading.numeral,
            key: analysed.reading.key,
            thumbs: thumbsOf(family?.positions ?? [], planned, markOf),
            scaleName: chordScale?.name ?? null,
            isInside: chordScale?.inside ?? true,
            isPinned: isPinned(pins, name),
            figures: ofSlot.get(analysed.played.index) ?? [],
          };
        }),
      })),
    })),
    regions,
    figures,
    forms,
  };
}

/** The family's thumbs, the hand's own among them; a pinned position may be none of the family's. */
function thumbsOf(
  positions: readonly Position[],
  { position: own, thumbMidi }: PlannedSlot,
  markOf: PlaceMark,
): SlotView['thumbs'] {
  const thumbs = positions.map((each) => {
    const isHere = each.thumb === own?.thumb;
    return { name: each.thumb, mark: markOf(own ?? each, isHere ? thumbMidi : null), isHere };
  });
  if (own === null || thumbs.some(({ isHere }) => isHere)) return thumbs;
  return [{ name: own.thumb, mark: markOf(own, thumbMidi), isHere: true }, ...thumbs];
}
