import { barTicksOf, beatTicksOf, TICKS_PER_QUARTER } from '../chart/index.ts';
import type { TakeGround } from './course.ts';

/** What a recording says of where bar 1 is. */
export interface StartSigns {
  readonly markers: readonly { readonly seconds: number; readonly text: string }[];
  /** Whole bars before bar 1, where somebody says so. */
  readonly countInBars: number | null;
}

/**
 * Where bar 1 begins in a recording: after the bars that are said to be counted in; else at a marker that names bar 1, the first
 * chorus or the form's first section (which begins with its pickup), or that follows one called count-in; else at its very start.
 * @param tempoBpm beats a minute of the chart's metre
 */
export function barOneSeconds(
  { analysis, score }: TakeGround,
  tempoBpm: number,
  { markers, countInBars }: StartSigns,
): number {
  const tickSeconds = 60 / tempoBpm / beatTicksOf(score.meter);
  if (countInBars !== null) return countInBars * barTicksOf(score.meter) * tickSeconds;
  const first = markers.find(({ text }) => /^(bar )?1$|\bchorus 1$/iu.test(text.trim()));
  if (first !== undefined) return first.seconds;
  const count = markers.findIndex(({ text }) => /^count[- ]?in$/iu.test(text.trim()));
  const afterCount = count < 0 ? undefined : markers[count + 1];
  if (afterCount !== undefined) return afterCount.seconds;
  const [opening] = analysis.form.bars;
  const name = opening?.section.name?.trim().toLowerCase() ?? '';
  const section = markers.find(({ text }) => text.trim().toLowerCase() === name && name !== '');
  const pickupSeconds = Math.max(0, -(opening?.startTicks ?? 0)) * tickSeconds;
  return section === undefined ? 0 : section.seconds + pickupSeconds;
}

/** Tempi a take may have, beats a minute of the metre. */
export const SLOWEST_TAKE_BPM = 20;
export const FASTEST_TAKE_BPM = 400;

/** Where a file states this and the chart another, nobody chose it. Source: Standard MIDI Files 1.1, the tempo of a file without one. */
const UNCHOSEN_TEMPO = 120;

/** Whether somebody chose the tempo that a file states. */
export function isTempoStated(quartersAMinute: number | null): quartersAMinute is number {
  return quartersAMinute !== null && Math.abs(quartersAMinute - UNCHOSEN_TEMPO) > 0.01;
}

/**
 * Beats a minute of the chart's metre: as a file states it, else the chart's.
 * @param quartersAMinute null where the file states none
 */
export function takeTempo(quartersAMinute: number | null, { score }: TakeGround): number {
  if (!isTempoStated(quartersAMinute)) return score.tempoBpm;
  const stated = (quartersAMinute * TICKS_PER_QUARTER) / beatTicksOf(score.meter);
  return stated >= SLOWEST_TAKE_BPM && stated <= FASTEST_TAKE_BPM ? stated : score.tempoBpm;
}
