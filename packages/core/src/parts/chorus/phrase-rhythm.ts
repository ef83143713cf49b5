import type { PlayedBar } from '../../chart/index.ts';
import { beatTicksOf, isCompound } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';

/** The grid of a chorus: eighth notes. */
export const EIGHTH_TICKS = 480;

/** A note of a phrase before it has a pitch. */
export interface Onset {
  readonly startTicks: number;
  readonly durationTicks: number;
}

/** How free a chorus is. */
export type ChorusLevel = 1 | 2 | 3;

/**
 * One beat's rhythm, an eighth a sign: `x` a note begins, `-` it is held, `.` silence. A held first eighth ties over the beat.
 * Weights by level 1 to 3, our own: running eighths dominate as they do in swing solos.
 */
const BEAT_CELLS: readonly { readonly cell: string; readonly weights: readonly [number, number, number] }[] = [
  { cell: 'xx', weights: [10, 16, 20] },
  { cell: 'x-', weights: [7, 3, 2] },
  { cell: '.x', weights: [3, 3, 2] },
  { cell: '-x', weights: [1, 3, 4] },
];

/** The same for a dotted beat. */
const DOTTED_CELLS: typeof BEAT_CELLS = [
  { cell: 'xxx', weights: [8, 14, 18] },
  { cell: 'x-x', weights: [7, 5, 4] },
  { cell: 'x--', weights: [4, 2, 1] },
  { cell: '.xx', weights: [2, 3, 3] },
];

/** How many bars a phrase spans (2 to 4) and how many beats of silence follow it, by level. Our own; phrases touch 1·3·6 bars (Weimar, C). */
const PHRASE_BARS = [2, 3, 4] as const;
const PHRASE_BAR_WEIGHTS = { 1: [6, 2, 1], 2: [5, 3, 3], 3: [3, 4, 5] } as const;
const REST_BEATS = [1, 2, 3] as const;
const REST_BEAT_WEIGHTS = { 1: [1, 4, 3], 2: [3, 4, 2], 3: [5, 3, 1] } as const;
/** Eighths after the bar line that a phrase starts, 0 to 3: mostly off the beat. Our own. */
const START_WEIGHTS = { 1: [4, 4, 3, 2], 2: [2, 5, 1, 3], 3: [1, 5, 1, 3] } as const;
/** Longest held last note, in eighths. */
const LAST_NOTE_EIGHTHS = 3;
/** Fewer notes than this are no phrase (4 is the tenth percentile of phrase length; Weimar, C). */
export const SHORTEST_PHRASE_NOTES = 4;

/** A beat of the form. */
interface Beat {
  readonly startTicks: number;
  readonly eighths: number;
  readonly cells: typeof BEAT_CELLS;
}

function beatsOfBars(bars: readonly PlayedBar[]): Beat[] {
  return bars
    .filter(({ bar }) => bar.number > 0)
    .flatMap(({ bar, startTicks }) => {
      const beatTicks = beatTicksOf(bar.meter);
      // metres over 2 have two eighth pairs a beat: the pulse of a line is the eighth whatever the beat is
      const pulse = isCompound(bar.meter) ? beatTicks : Math.min(beatTicks, 2 * EIGHTH_TICKS);
      if (pulse % EIGHTH_TICKS !== 0) return [];
      const eighths = pulse / EIGHTH_TICKS;
      const cells =
        eighths === 3 ? DOTTED_CELLS : eighths === 2 ? BEAT_CELLS : [{ cell: 'x', weights: [1, 1, 1] } as const];
      return Array.from({ length: bar.durationTicks / pulse }, (_, beat) => ({
        startTicks: startTicks + beat * pulse,
        eighths,
        cells,
      }));
    });
}

/** One phrase's rhythm over its beats, as signs; the first beat may start late, the last note is held. */
function signsOf(beats: readonly Beat[], level: ChorusLevel, random: RandomSource): string {
  const late = random.weighted(START_WEIGHTS[level]);
  let signs = '';
  for (const [index, { cells, eighths }] of beats.entries()) {
    const usable = cells.map(({ cell, weights }) => {
      const tiesOverNothing = cell.startsWith('-') && !signs.endsWith('x');
      const breaksTheStart = index === 0 && cell !== 'x'.repeat(eighths);
      const breaksTheEnd = index === beats.length - 1 && !cell.startsWith('x');
      return tiesOverNothing || breaksTheStart || breaksTheEnd ? 0 : (weights[level - 1] as number);
    });
    signs += cells[random.weighted(usable)]?.cell ?? 'x'.repeat(eighths);
  }
  const started = '.'.repeat(late) + signs.slice(late);
  return started.slice(0, started.lastIndexOf('x') + 1);
}

/** Signs as notes from a tick on; the last is held as long as there is room, cut where the line must breathe. */
function onsetsOf(signs: string, startTicks: number, endTicks: number): Onset[] {
  const starts = [...signs].flatMap((sign, index) => (sign === 'x' ? [index] : []));
  return starts.map((at, index) => {
    const held = /^-*/u.exec(signs.slice(at + 1))?.[0].length ?? 0;
    const isLast = index === starts.length - 1;
    const start = startTicks + at * EIGHTH_TICKS;
    const room = Math.floor((endTicks - start) / EIGHTH_TICKS);
    return {
      startTicks: start,
      durationTicks: (isLast ? Math.max(1, Math.min(LAST_NOTE_EIGHTHS, room)) : 1 + held) * EIGHTH_TICKS,
    };
  });
}

/**
 * Where the phrases of a chorus are and when their notes begin, over the whole form: two to four bars, then a breath.
 * A pickup rests. The last phrase ends within the form.
 */
export function phraseRhythms(bars: readonly PlayedBar[], level: ChorusLevel, random: RandomSource): Onset[][] {
  const beats = beatsOfBars(bars);
  const barStarts = new Set(bars.map(({ startTicks }) => startTicks));
  const phrases: Onset[][] = [];
  for (let first = 0; first < beats.length;) {
    const barCount = PHRASE_BARS[random.weighted(PHRASE_BAR_WEIGHTS[level])] as number;
    const rest = REST_BEATS[random.weighted(REST_BEAT_WEIGHTS[level])] as number;
    let end = first + 1;
    for (let crossed = 0; end < beats.length; end++) {
      if (barStarts.has((beats[end] as Beat).startTicks) && ++crossed === barCount) break;
    }
    const sounding = beats.slice(first, Math.max(first + 1, end - rest));
    const last = beats[end - 1] as Beat;
    const phraseEnd = last.startTicks + last.eighths * EIGHTH_TICKS;
    const onsets = onsetsOf(signsOf(sounding, level, random), (beats[first] as Beat).startTicks, phraseEnd);
    if (onsets.length >= SHORTEST_PHRASE_NOTES) phrases.push(onsets);
    first = end;
  }
  return phrases;
}
