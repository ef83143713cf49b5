/** The one step that a remark proposes, as something that can be started: the words of it stand in core, words.ts. */
import { slowerThan, type DrillKindId, type Finding } from '@fivespan/core';
import type { TakeBar, TakeView } from './take-view.ts';

export type TakeStep =
  /** These bars again and again; `first` and `last` as counted on paper. */
  | {
      readonly kind: 'loop';
      readonly fromPlace: number;
      readonly toPlace: number;
      readonly first: number;
      readonly last: number;
      readonly tempoBpm: number;
    }
  /** The whole form, slower; `alone` where the left hand is to be heard without bass and right hand. */
  | { readonly kind: 'tempo'; readonly tempoBpm: number; readonly alone: boolean }
  | { readonly kind: 'drill'; readonly drill: DrillKindId; readonly tempoBpm: number };

/** Where nothing else is said, these bars are looped. */
const PHRASE_BARS = 4;

/** The first run of the bars a remark is about, in the form. */
function runOf(bars: readonly number[], form: readonly TakeBar[]): readonly TakeBar[] {
  const first = form.findIndex(({ number }) => bars.includes(number));
  if (first < 0) return [];
  const end = form.findIndex((bar, index) => index > first && !bars.includes(bar.number));
  return form.slice(first, end < 0 ? form.length : end);
}

/** What a remark proposes to start at once. */
export function stepOf({ code, bars }: Finding, { bars: played, tempoBpm }: TakeView): TakeStep {
  const slower = slowerThan(tempoBpm);
  const byPlace = new Map(played.filter(({ place }) => place >= 0).map((bar) => [bar.place, bar]));
  const form = [...byPlace.values()].toSorted((a, b) => a.place - b.place);
  const loop = (run: readonly TakeBar[], tempo: number): TakeStep => {
    const [first, last] = [run[0], run.at(-1)];
    if (first === undefined || last === undefined) return { kind: 'tempo', tempoBpm: tempo, alone: false };
    return {
      kind: 'loop',
      fromPlace: first.place,
      toPlace: last.place,
      first: first.number,
      last: last.number,
      tempoBpm: tempo,
    };
  };
  switch (code) {
    case 'time.late':
    case 'time.early':
      return { kind: 'tempo', tempoBpm: slower, alone: false };
    case 'left.uneven':
      return { kind: 'tempo', tempoBpm: slower, alone: true };
    case 'guide-tones.missed':
      return { kind: 'drill', drill: 'guide-tones', tempoBpm: slower };
    case 'dynamics.flat':
      return loop(form.slice(0, PHRASE_BARS), tempoBpm);
    case 'position.wrong':
    case 'position.other-move':
    case 'avoid.hanging':
    case 'time.rushing':
    case 'time.dragging':
    case 'left.dropped':
    case 'left.root-wrong':
    case 'phrase.no-rests':
      return loop(runOf(bars, form), slower);
  }
}
