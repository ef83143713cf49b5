import { beatTicksOf, NO_CHORD, type ChordSymbol, type Issue, type IssueArgs, type IssueCode } from '@fivespan/core';
import type { ReadBar } from './bar-reading.ts';
import { readChord } from './chord-reading.ts';

/** A chord at its place in a bar. Ticks from the bar's start. */
export interface ReadSlot {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly chord: ChordSymbol;
}

/** A chord that has been understood, on the line of all bars. */
interface Placed {
  readonly atTicks: number;
  readonly chord: ChordSymbol;
  readonly bar: number;
}

/** Chords stand on twelfths of a beat: eighths, triplets and sixteenths are among them; finer places are rounded. */
function gridTicks(bar: ReadBar | undefined): number {
  return bar === undefined ? 1 : beatTicksOf(bar.meter) / 12;
}

/** The bar at a time, by halving: bars ascend. */
function barAt(bars: readonly ReadBar[], ticks: number): ReadBar | undefined {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((bars[middle]?.startTicks ?? 0) <= ticks) low = middle;
    else high = middle - 1;
  }
  return bars[low];
}

/** A time on the grid of the bar it is in; what would round to the end of the last bar stays in it. */
function rounded(bars: readonly ReadBar[], ticks: number): number {
  const bar = barAt(bars, ticks);
  if (bar === undefined) return ticks;
  const grid = gridTicks(bar);
  const inBar = Math.round((ticks - bar.startTicks) / grid) * grid;
  return bar.startTicks + (bar === bars.at(-1) ? Math.min(inBar, bar.durationTicks - grid) : inBar);
}

/** Chords at one place share the time up to the next chord or bar line; the same chord twice is one. */
function spread(placed: readonly Placed[], bars: readonly ReadBar[], warn: Warn): Placed[] {
  const result: Placed[] = [];
  for (let index = 0; index < placed.length;) {
    const first = placed[index] as Placed;
    let next = index;
    const group: Placed[] = [];
    for (; placed[next]?.atTicks === first.atTicks; next++) {
      const each = placed[next] as Placed;
      if (group.at(-1)?.chord.symbol !== each.chord.symbol) group.push(each);
    }
    const bar = barAt(bars, first.atTicks);
    const barEnd = bar === undefined ? first.atTicks : bar.startTicks + bar.durationTicks;
    const room = Math.min(barEnd, placed[next]?.atTicks ?? barEnd) - first.atTicks;
    const grid = gridTicks(bar);
    const most = Math.max(1, Math.floor(room / grid));
    const kept = group.slice(0, most);
    if (group.length > 1) warn('musicxml.chords-at-one-place', { count: group.length }, first.bar);
    for (const each of group.slice(most)) warn('musicxml.chord-dropped', { written: each.chord.symbol }, each.bar);
    const share = Math.floor(room / kept.length / grid) * grid;
    for (const [place, each] of kept.entries()) result.push({ ...each, atTicks: first.atTicks + place * share });
    index = next;
  }
  return result;
}

type Warn = (code: IssueCode, args: IssueArgs, bar: number) => void;

/**
 * The chords of all bars, one list of slots a bar, without gaps: where a bar begins without a chord the one before goes
 * on, and before the first there is none.
 */
export function readSlots(bars: readonly ReadBar[]): {
  readonly slots: readonly (readonly ReadSlot[])[];
  readonly warnings: readonly Issue[];
} {
  const warnings: Issue[] = [];
  const warn: Warn = (code, args, bar) => warnings.push({ code, args, place: { bar } });
  const placed: Placed[] = [];
  const last = bars.at(-1);
  const totalTicks = last === undefined ? 0 : last.startTicks + last.durationTicks;
  for (const bar of bars) {
    for (const harmony of bar.harmonies) {
      if (harmony.isNumeral) continue;
      const { chord, written, isExact } = readChord(harmony, bar.transposeFifths);
      if (chord === null) {
        warn('musicxml.chord-dropped', { written }, bar.number);
        continue;
      }
      if (!isExact) warn('musicxml.chord-changed', { written, read: chord.symbol }, bar.number);
      // before the bar line is an anticipation and belongs to the bar before; behind the bar's end is a mistake
      const isBehind = harmony.ticks >= bar.durationTicks;
      const isBefore = bar.startTicks + harmony.ticks < 0;
      if (isBehind || isBefore) warn('musicxml.chord-outside-bar', { written }, bar.number);
      const inBar = isBehind ? bar.durationTicks - Math.min(960, bar.durationTicks) : harmony.ticks;
      const atTicks = rounded(bars, Math.min(Math.max(0, bar.startTicks + inBar), totalTicks - 1));
      placed.push({ atTicks, chord, bar: bar.number });
    }
  }
  placed.sort((a, b) => a.atTicks - b.atTicks);
  const places = spread(placed, bars, warn);
  let current: ChordSymbol = NO_CHORD;
  let next = 0;
  const slots = bars.map((bar) => {
    const own: ReadSlot[] = [];
    const end = bar.startTicks + bar.durationTicks;
    let at = bar.startTicks;
    const close = (until: number): void => {
      if (until > at) own.push({ startTicks: at - bar.startTicks, durationTicks: until - at, chord: current });
      at = until;
    };
    for (; (places[next]?.atTicks ?? Infinity) < end; next++) {
      const each = places[next] as Placed;
      close(each.atTicks);
      current = each.chord;
    }
    close(end);
    return own;
  });
  return { slots, warnings };
}
