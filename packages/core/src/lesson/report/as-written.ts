import type { Analysis, AnalysedSlot } from '../../analysis/index.ts';
import { barsOf, beatsOf, type PlayedSlot } from '../../chart/index.ts';

/** A place in the written chart: bar as on paper (a pickup is 0), beat from 1. */
export interface BarBeat {
  readonly bar: number;
  readonly beat: number;
}

/** A beat as reports have it: three decimals, since a third of a beat has no end. */
export function beatReported(beat: number): number {
  return Math.round(beat * 1000) / 1000;
}

/** The written slots in the order of the paper, each as it reads the first time it is played; unplayed ones left out. */
export function chordsAsWritten(analysis: Analysis): AnalysedSlot[] {
  const first = new Map<string, AnalysedSlot>();
  for (const slot of analysis.slots) if (!first.has(slot.played.slot.id)) first.set(slot.played.slot.id, slot);
  return barsOf(analysis.chart)
    .flatMap((bar) => bar.slots)
    .map((slot) => first.get(slot.id))
    .filter((slot) => slot !== undefined);
}

/** The first and the last beat of a slot, both included. */
export function placeOfSlot(played: PlayedSlot): { readonly from: BarBeat; readonly to: BarBeat } {
  const { number: bar, meter } = played.playedBar.bar;
  const last = Math.max(played.beat, Math.min(Math.ceil(played.beat + played.beats) - 1, beatsOf(meter)));
  return { from: { bar, beat: beatReported(played.beat) }, to: { bar, beat: beatReported(last) } };
}
