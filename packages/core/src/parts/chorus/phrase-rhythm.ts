import { TICKS_PER_QUARTER, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { PHRASE_GAP_TICKS, SHORTEST_PHRASE_NOTES } from './phrase.ts';
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
  /** The earlier phrase whose motif it takes up, as its place in the list; null where it brings a new one. */
  readonly answers: number | null;
  /** How many of its first notes have that phrase's rhythm. */
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
    { signs: 'xx', weights: [12, 18, 26] },
    { signs: 'x-', weights: [6, 3, 1] },
    { signs: '.x', weights: [2, 2, 1] },
    { signs: '-x', weights: [1, 3, 3] },
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
const SPAN_WEIGHTS: Readonly<Record<ChorusLevel, Weights>> = { 1: [6, 1, 2], 2: [3, 2, 4], 3: [2, 2, 5] };

/** Quarters of breath at a span's end. Our own. */
const BREATHS = [1, 2, 3] as const;
const BREATH_WEIGHTS: Readonly<Record<ChorusLevel, Weights>> = { 1: [1, 4, 4], 2: [3, 4, 2], 3: [5, 3, 1] };

/** The share of its span that a phrase may breathe: a short one still has something to say. Our own. */
const MOST_BREATH = 3 / 8;

/** Cells into its span that a phrase begins: before its bar line (a lead-in of eighths), on the beat, off it, on the next. Our own. */
const OFFSETS = [-3, -2, -1, 0, 1, 2] as const;
const OFFSET_WEIGHTS: Readonly<Record<ChorusLevel, readonly number[]>> = {
  1: [0, 1, 1, 3, 3, 1],
  2: [2, 2, 1, 2, 4, 1],
  3: [3, 2, 1, 1, 4, 1],
};

/** What a phrase takes up, in ten: the motif of the phrase before, that of the first phrase, nothing. Our own. */
const MOTIF_WEIGHTS = [5, 3, 2] as const;
/** The longest a last note is held, in cells. Our own. */
const LAST_NOTE_CELLS = 3;

/** How many bars a phrase counts as one: short bars (2/4, 3/8) go by in pairs or threes. Our own. */
function barsAsOne({ bar }: PlayedBar): number {
  return Math.max(1, Math.round(4 / (bar.durationTicks / TICKS_PER_QUARTER)));
}

/** Bars of one section shared out among phrases, so that no phrase spans a single bar where it need not. */
function spansOf(bars: readonly PlayedBar[], level: ChorusLevel, random: RandomSource): PlayedBar[][] {
  const spans: PlayedBar[][] = [];
  for (let first = 0; first < bars.length;) {
    const left = bars.length - first;
    const [shortest, ...longer] = SPANS.map((each) => each * barsAsOne(bars[first] as PlayedBar));
    const lengths = [shortest as number, ...longer];
    const open = lengths.map((length, index) =>
      left - length === 0 || left - length >= (shortest as number) ? (SPAN_WEIGHTS[level][index] as number) : 0,
    );
    const length = open.every((weight) => weight === 0) ? left : (lengths[random.weighted(open)] as number);
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

/**
 * Signs as notes, `offset` cells late or led into; the last is held as long as there is room before the breath ends, two
 * cells at least.
 */
function onsetsOf(pulses: readonly Pulse[], signs: readonly string[], offset: number, endTicks: number): Onset[] {
  const cells = pulses.flatMap(({ startTicks, cellTicks }, pulse) =>
    Array.from(signs[pulse] as string, (sign, cell) => ({
      sign,
      cellTicks,
      startTicks: startTicks + cell * cellTicks,
    })),
  );
  const [{ startTicks: firstTicks, cellTicks: leadTicks }] = cells as [(typeof cells)[number]];
  const onsets: Onset[] = [];
  for (let lead = offset; lead < 0; lead++) {
    onsets.push({ startTicks: firstTicks + lead * leadTicks, durationTicks: leadTicks });
  }
  let sounds = false;
  for (const { sign, cellTicks, startTicks } of cells.slice(Math.max(0, offset))) {
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
  const room = Math.max(2 * cellTicks, endTicks - last.startTicks);
  onsets[onsets.length - 1] = { ...last, durationTicks: Math.min(room, LAST_NOTE_CELLS * cellTicks) };
  return onsets;
}

/** A phrase's rhythm in signs, for another to take up. */
interface Motif {
  readonly index: number;
  readonly signs: readonly string[];
  readonly offset: number;
  /** The offset it would have had with enough silence before it. */
  readonly wishedOffset: number;
}

/** How many notes at the start of two phrases have the same rhythm: the lead-in, then sign by sign. */
function notesInCommon(motif: Motif, signs: readonly string[], offset: number): number {
  if (motif.offset !== offset) return 0;
  let same = 0;
  while (same < signs.length && motif.signs[same] === signs[same]) same++;
  const cells = Array.from(signs.slice(0, same).join('')).slice(Math.max(0, offset));
  return Math.max(0, -offset) + cells.filter((sign) => sign === 'x').length;
}

/**
 * The pulses a phrase sounds over: up to the breath, or on to where a phrase may come to rest: inside its span, else over
 * the bar line on the next bar's first pulse.
 */
function soundingPulses(
  pulses: readonly Pulse[],
  next: Pulse | undefined,
  breathFrom: number,
  canRest: (ticks: number) => boolean,
): Pulse[] {
  const isOpen = (count: number): boolean => count > 0 && !canRest((pulses[count - 1] as Pulse).startTicks);
  const fitting = pulses.filter((each) => each.startTicks + each.cells * each.cellTicks <= breathFrom).length;
  let count = fitting;
  while (isOpen(count) && count < pulses.length) count++;
  if (!isOpen(count)) return pulses.slice(0, count);
  return next !== undefined && canRest(next.startTicks) ? [...pulses, next] : pulses.slice(0, fitting);
}

/**
 * Where the phrases of a chorus are and when their notes begin: two to four bars and a breath, within the sections of the
 * form, often led into by a few eighths before the bar line. Most take up the motif of the phrase before or of the first
 * phrase: the first half of its rhythm. A pickup rests. Between two phrases lies a quarter at least.
 * @param canRest whether a phrase may end on a note at this tick: the hand holds a chord tone there
 */
export function phraseRhythms(
  bars: readonly PlayedBar[],
  level: ChorusLevel,
  canRest: (ticks: number) => boolean,
  random: RandomSource,
): PhraseRhythm[] {
  const full = bars.filter(({ bar }) => bar.number > 0);
  const rhythms: PhraseRhythm[] = [];
  let first: Motif | null = null;
  let before: Motif | null = null;
  for (const span of stretchesOf(full).flatMap((stretch) => spansOf(stretch, level, random))) {
    const lastBar = span.at(-1) as PlayedBar;
    const spanEnd = lastBar.startTicks + lastBar.bar.durationTicks;
    const nextBar = full[full.indexOf(lastBar) + 1];
    const spanTicks = spanEnd - (span[0] as PlayedBar).startTicks;
    const mostQuarters = Math.max(1, Math.floor((spanTicks * MOST_BREATH) / TICKS_PER_QUARTER));
    const breath = Math.min(mostQuarters, BREATHS[random.weighted(BREATH_WEIGHTS[level])] as number);
    const breathTicks = breath * TICKS_PER_QUARTER;
    const [overBarLine] = nextBar === undefined ? [] : pulsesOf(nextBar);
    const sounding = soundingPulses(span.flatMap(pulsesOf), overBarLine, spanEnd - breathTicks, canRest);
    const [opening] = sounding;
    if (opening === undefined) continue;
    const motif: Motif | null = [before, first, null][random.weighted(MOTIF_WEIGHTS)] as Motif | null;
    const echoed = motif === null ? [] : motif.signs.slice(0, Math.ceil(motif.signs.length / 2));
    const drawn = OFFSETS[random.weighted(OFFSET_WEIGHTS[level])] as number;
    const last = rhythms.at(-1)?.onsets.at(-1);
    const silentFrom =
      last === undefined ? opening.startTicks : last.startTicks + last.durationTicks + PHRASE_GAP_TICKS;
    // cells of silence that the breath still needs; below 0 there is room for a lead-in
    const earliest = Math.ceil((silentFrom - opening.startTicks) / opening.cellTicks);
    const wishedOffset = motif?.wishedOffset ?? drawn;
    const drawnOffset = Math.max(wishedOffset, earliest);
    const drawnSigns = signsOf(sounding, echoed, level, random);
    const limit = spanEnd - PHRASE_GAP_TICKS;
    const isEnough = onsetsOf(sounding, drawnSigns, drawnOffset, limit).length >= SHORTEST_PHRASE_NOTES;
    // too little to be a phrase: running from the first cell there is
    const offset = isEnough ? drawnOffset : Math.min(drawnOffset, Math.max(0, earliest));
    const signs = isEnough ? drawnSigns : sounding.map(({ cells }) => 'x'.repeat(cells));
    const onsets = onsetsOf(sounding, signs, offset, limit);
    if (onsets.length === 0) continue;
    const answering = motif === null ? 0 : notesInCommon({ ...motif, signs: echoed }, signs, offset);
    before = { index: rhythms.length, signs, offset, wishedOffset };
    first ??= before;
    rhythms.push({ onsets, answers: motif?.index ?? null, answering });
  }
  return rhythms;
}
