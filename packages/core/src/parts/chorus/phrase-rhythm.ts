import { TICKS_PER_QUARTER, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { PHRASE_GAP_TICKS } from './phrase.ts';
import { pulsesOf, type Pulse } from './pulse.ts';

/** A note of a phrase before it has a pitch. */
export interface Onset {
  readonly startTicks: number;
  /** How long it would sound; a change of chord may cut it. */
  readonly durationTicks: number;
}

/** How free a chorus is: 1 plain, 2 flowing, 3 free. */
export type ChorusLevel = 1 | 2 | 3;

/** A phrase's rhythm. */
export interface PhraseRhythm {
  readonly onsets: readonly Onset[];
  /** How many of its first notes answer the phrase before in the same rhythm; 0 where none do. */
  readonly answering: number;
}

type Weights = readonly [number, number, number];

interface BeatCell {
  /** A cell a sign: `x` a note begins, `-` it is held, `.` silence. */
  readonly signs: string;
  /** By level. */
  readonly weights: Weights;
}

/** What a pulse may hold, by its number of cells. Our own: running eighths dominate, as they do in swing solos. */
const BEAT_CELLS: Readonly<Record<Pulse['cells'], readonly BeatCell[]>> = {
  1: [
    { signs: 'x', weights: [12, 14, 16] },
    { signs: '-', weights: [4, 3, 2] },
  ],
  2: [
    { signs: 'xx', weights: [12, 18, 22] },
    { signs: 'x-', weights: [6, 3, 2] },
    { signs: '.x', weights: [2, 2, 2] },
    { signs: '-x', weights: [1, 3, 4] },
  ],
  3: [
    { signs: 'xxx', weights: [8, 14, 18] },
    { signs: 'x-x', weights: [7, 5, 4] },
    { signs: 'x--', weights: [4, 2, 1] },
    { signs: '.xx', weights: [2, 3, 3] },
  ],
};

/** Bars a phrase spans, its breath included. Our own; phrases touch 1·3·6 bars (Weimar data package, p10·50·90, C). */
const SPANS = [2, 3, 4] as const;
const SPAN_WEIGHTS: Readonly<Record<ChorusLevel, Weights>> = { 1: [6, 1, 2], 2: [4, 1, 4], 3: [2, 1, 6] };

/** Quarters of breath at a span's end. Our own. */
const BREATHS = [1, 2, 3] as const;
const BREATH_WEIGHTS: Readonly<Record<ChorusLevel, Weights>> = { 1: [1, 4, 4], 2: [3, 4, 2], 3: [5, 3, 1] };

/** Cells into its span that a phrase begins: on the beat, off it, on the next. Our own. */
const LATE_WEIGHTS: Readonly<Record<ChorusLevel, Weights>> = { 1: [3, 3, 2], 2: [2, 5, 2], 3: [1, 5, 2] };

/** How often in ten a phrase answers the one before in its rhythm. Our own. */
const ANSWERS_IN_TEN = 6;
/** The longest a last note is held, in cells. Our own. */
const LAST_NOTE_CELLS = 3;

/** Bars of one section shared out among phrases, so that no phrase spans a single bar where it need not. */
function spansOf(bars: readonly PlayedBar[], level: ChorusLevel, random: RandomSource): PlayedBar[][] {
  const spans: PlayedBar[][] = [];
  for (let first = 0; first < bars.length;) {
    const left = bars.length - first;
    const open = SPANS.map((length, index) =>
      left - length === 0 || left - length >= 2 ? (SPAN_WEIGHTS[level][index] as number) : 0,
    );
    const length = left < 2 ? left : (SPANS[random.weighted(open)] as number);
    spans.push(bars.slice(first, first + length));
    first += length;
  }
  return spans;
}

/** Bars that follow each other in one section. */
function stretchesOf(bars: readonly PlayedBar[]): PlayedBar[][] {
  const stretches: PlayedBar[][] = [];
  for (const [index, each] of bars.entries()) {
    const before = bars[index - 1];
    const goesOn = before !== undefined && before.section.id === each.section.id && before.pass === each.pass;
    if (!goesOn) stretches.push([]);
    stretches.at(-1)?.push(each);
  }
  return stretches;
}

/** Signs for each pulse of a phrase, which begins on its first and has a note on its last. */
function signsOf(
  pulses: readonly Pulse[],
  answered: readonly string[],
  level: ChorusLevel,
  random: RandomSource,
): string[] {
  const signs: string[] = [];
  for (const [index, { cells }] of pulses.entries()) {
    const last = index === pulses.length - 1;
    const echo = answered[index];
    const open = BEAT_CELLS[cells].map((each) => {
      const holdsNothing = each.signs.startsWith('-') && !(signs.at(-1) ?? '').endsWith('x');
      const mustSound = (index === 0 || last) && !each.signs.startsWith('x');
      return holdsNothing || mustSound ? 0 : (each.weights[level - 1] as number);
    });
    const echoes = BEAT_CELLS[cells].findIndex((each, at) => each.signs === echo && (open[at] as number) > 0);
    signs.push((BEAT_CELLS[cells][echoes >= 0 ? echoes : random.weighted(open)] as BeatCell).signs);
  }
  return signs;
}

/** Signs as notes; the last is held as long as there is room before the breath ends. */
function onsetsOf(pulses: readonly Pulse[], signs: readonly string[], late: number, endTicks: number): Onset[] {
  const cells = pulses.flatMap(({ startTicks, cellTicks }, pulse) =>
    [...(signs[pulse] as string)].map((sign, cell) => ({ sign, cellTicks, startTicks: startTicks + cell * cellTicks })),
  );
  const played = cells.map((cell, index) => (index < late ? { ...cell, sign: '.' } : cell));
  const onsets: Onset[] = [];
  let sounds = false;
  for (const { sign, cellTicks, startTicks } of played) {
    const open = onsets.at(-1);
    if (sign === 'x') onsets.push({ startTicks, durationTicks: cellTicks });
    else if (sign === '-' && sounds && open !== undefined) {
      onsets[onsets.length - 1] = { ...open, durationTicks: open.durationTicks + cellTicks };
    }
    sounds = sign === 'x' || (sign === '-' && sounds);
  }
  const last = onsets.at(-1);
  if (last === undefined) return onsets;
  const { cellTicks } = pulses.at(-1) as Pulse;
  const room = Math.max(cellTicks, endTicks - last.startTicks);
  onsets[onsets.length - 1] = { ...last, durationTicks: Math.min(room, LAST_NOTE_CELLS * cellTicks) };
  return onsets;
}

/**
 * Where the phrases of a chorus are and when their notes begin: two to four bars and a breath, within the sections of the
 * form; a phrase often answers the one before in its rhythm. A pickup rests. Between two phrases lies a quarter at least.
 */
export function phraseRhythms(bars: readonly PlayedBar[], level: ChorusLevel, random: RandomSource): PhraseRhythm[] {
  const full = bars.filter(({ bar }) => bar.number > 0);
  const rhythms: PhraseRhythm[] = [];
  let before: readonly string[] = [];
  let beforeLate = 0;
  for (const span of stretchesOf(full).flatMap((stretch) => spansOf(stretch, level, random))) {
    const { bar, startTicks } = span.at(-1) as PlayedBar;
    const spanEnd = startTicks + bar.durationTicks;
    const breathTicks = (BREATHS[random.weighted(BREATH_WEIGHTS[level])] as number) * TICKS_PER_QUARTER;
    const pulses = span.flatMap(pulsesOf);
    const sounding = pulses.filter((each) => each.startTicks + each.cells * each.cellTicks <= spanEnd - breathTicks);
    if (sounding.length === 0) continue;
    const answers = before.length > 0 && random.integer(10) < ANSWERS_IN_TEN;
    const echoed = answers ? before.slice(0, Math.ceil(before.length / 2)) : [];
    const drawn = random.weighted(LATE_WEIGHTS[level]);
    const late = answers ? beforeLate : drawn;
    const signs = signsOf(sounding, echoed, level, random);
    const onsets = onsetsOf(sounding, signs, late, spanEnd - PHRASE_GAP_TICKS);
    let same = 0;
    while (same < echoed.length && echoed[same] === signs[same]) same++;
    const answering = Math.max(0, [...signs.slice(0, same).join('')].slice(late).filter((sign) => sign === 'x').length);
    rhythms.push({ onsets, answering });
    [before, beforeLate] = [signs, late];
  }
  return rhythms;
}
