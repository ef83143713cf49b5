import type { AnalysedSlot, Analysis } from '../../analysis/index.ts';
import { beatTicksOf, type Feel, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import type { Plan } from '../../plan/index.ts';
import { midiOf, type Pitch } from '../../theory/index.ts';
import type { PartNote } from '../note.ts';
import {
  leadVoicings,
  pinnedKeysOf,
  type Voicing,
  type VoicingFormName,
  type VoicingPin,
  type VoicingStyle,
} from '../voicings/index.ts';
import { compCellTicks, compFigures, type CompFigure, type CompGround } from './comping-rhythm.ts';

/** A comped chord: several notes struck together. Ticks count from the first full bar. */
export interface CompChord {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** The chord it belongs to; a push belongs to the coming one. */
  readonly slotIndex: number;
  readonly form: VoicingFormName;
  /** From the lowest up. */
  readonly pitches: readonly Pitch[];
}

/** How densely a hand comps. */
export const COMP_DENSITIES = ['sparse', 'usual', 'dense'] as const;
export type CompDensity = (typeof COMP_DENSITIES)[number];

/** Strokes a bar more or fewer than a bar as busy as it is would have. */
const DENSER: Readonly<Record<CompDensity, number>> = { sparse: -1, usual: 0, dense: 1 };

export interface CompingOptions {
  readonly style: VoicingStyle;
  /** The feel and tempo it goes with: the chart's feel and 120 beats a minute unless told. */
  readonly feel?: Feel;
  readonly tempoBpm?: number;
  /** How many strokes; 'usual' unless told. */
  readonly density?: CompDensity;
  /** The line that is comped for, in time order: the comping is thin where it is busy and stays below it. */
  readonly solo: readonly Pick<PartNote, 'startTicks' | 'durationTicks' | 'pitch' | 'slotIndex'>[];
  /** The plan of the line: the chords take its colours. Left out, each takes its own. */
  readonly plan?: Plan;
  /** Voicings a teacher fixed: what of them is in the left hand is comped. */
  readonly pinned?: readonly VoicingPin[];
  /** Its own named source. */
  readonly random: RandomSource;
}

type SoloNote = CompingOptions['solo'][number];

/** A tempo that is neither slow nor fast. */
const USUAL_BPM = 120;

/** Fewest notes a comped chord has; where the right hand leaves room for fewer, the left rests. Our own. */
const FEWEST_NOTES = 2;

/** What a stroke is worth in a beat with no solo onset, one, two, more. Our own: an answer is what one waits for. */
const WORTH = [12, 3, 1, 0] as const;
/** What leaving a quiet beat empty takes off a figure, as a divisor by quiet beats left: long silences of both hands sag. */
const SAG = [1, 1, 2, 4, 8, 16] as const;
/** A bar's figure comes again this much less often straight away. */
const REPEATED = 4;

/** How much comping goes with a bar as busy as this: solo onsets a beat, in quarters of a note: strokes wanted. Our own. */
function wantedStrokes(onsets: number, beats: number): number {
  const quarters = Math.floor((onsets * 4) / beats);
  if (quarters >= 7) return 0;
  if (quarters >= 4) return 1;
  return quarters >= 1 ? 2 : 3;
}

function onsetsByBeat({ startTicks, bar }: PlayedBar, solo: readonly SoloNote[]): number[] {
  const beat = beatTicksOf(bar.meter);
  const counts = Array.from({ length: Math.max(1, Math.round(bar.durationTicks / beat)) }, () => 0);
  for (const note of solo) {
    const at = Math.floor((note.startTicks - startTicks) / beat);
    if (at >= 0 && at < counts.length) counts[at] = (counts[at] as number) + 1;
  }
  return counts;
}

function weightOf(
  figure: CompFigure,
  counts: readonly number[],
  cellsInBeat: number,
  before: CompFigure | null,
  density: CompDensity,
): number {
  const beatsHit = new Set(figure.strokes.map(({ cell }) => Math.floor(cell / cellsInBeat)));
  if ([...beatsHit].some((beat) => beat >= counts.length)) return 0;
  let weight = figure.weight * 64;
  for (const { cell } of figure.strokes) {
    const count = counts[Math.floor(cell / cellsInBeat)] ?? 0;
    weight = Math.floor((weight * (WORTH[Math.min(count, 3)] as number)) / 4);
  }
  const quietLeft = counts.filter((count, beat) => count === 0 && !beatsHit.has(beat)).length;
  weight = Math.floor(weight / (SAG[Math.min(quietLeft, 5)] as number));
  const onsets = counts.reduce((sum, each) => sum + each, 0);
  const wanted = Math.max(0, wantedStrokes(onsets, counts.length) + DENSER[density]);
  const off = Math.abs(figure.strokes.length - wanted);
  weight = Math.floor(weight / 3 ** off);
  return figure === before ? Math.floor(weight / REPEATED) : weight;
}

/** The lowest key of the solo over each slot, where it plays. */
function ceilingsOf({ slots }: Analysis, solo: readonly SoloNote[]): (number | undefined)[] {
  const ceilings: (number | undefined)[] = slots.map(() => undefined);
  for (const { slotIndex, pitch } of solo) {
    ceilings[slotIndex] = Math.min(ceilings[slotIndex] ?? Number.MAX_SAFE_INTEGER, midiOf(pitch));
  }
  return ceilings;
}

/** A stroke before it has notes. */
interface Strike {
  readonly startTicks: number;
  readonly cellTicks: number;
  readonly length: 'short' | 'long';
  /** The slot it is there for, where without it that chord would not sound at all. */
  readonly forSlot?: number;
}

/** Where a slot's chord is struck that no figure strikes: on the beat with the fewest onsets of the line, the first of them. */
function strikeFor({ played }: AnalysedSlot, solo: readonly SoloNote[]): Strike {
  const { bar } = played.playedBar;
  const beat = beatTicksOf(bar.meter);
  let [startTicks, fewest] = [played.startTicks, Number.POSITIVE_INFINITY];
  for (let at = played.startTicks; at < played.endTicks; at += beat) {
    const onsets = solo.filter((note) => note.startTicks >= at && note.startTicks < at + beat).length;
    if (onsets < fewest) [startTicks, fewest] = [at, onsets];
  }
  return {
    startTicks,
    cellTicks: compCellTicks(bar.meter),
    length: fewest === 0 ? 'long' : 'short',
    forSlot: played.index,
  };
}

function strikesOf(
  bars: readonly PlayedBar[],
  solo: readonly SoloNote[],
  random: RandomSource,
  ground: CompGround & { readonly density: CompDensity },
): Strike[] {
  let before: CompFigure | null = null;
  return bars.flatMap((played): Strike[] => {
    const { bar, startTicks } = played;
    // nobody comps in a pickup: the band comes in on one
    if (bar.number === 0) return [];
    const cellTicks = compCellTicks(bar.meter);
    const cellsInBeat = beatTicksOf(bar.meter) / cellTicks;
    const figures = compFigures(bar.meter, ground);
    const weights = figures.map((figure) =>
      weightOf(figure, onsetsByBeat(played, solo), cellsInBeat, before, ground.density),
    );
    if (weights.every((weight) => weight === 0)) return [];
    const figure = figures[random.weighted(weights)] as CompFigure;
    before = figure;
    return figure.strokes.map(({ cell, length }) => ({ startTicks: startTicks + cell * cellTicks, cellTicks, length }));
  });
}

/** The slot a stroke belongs to: one that begins with the very next cell is pushed. */
function slotOfStrike({ slots }: Analysis, { startTicks, cellTicks, forSlot }: Strike): number {
  if (forSlot !== undefined) return forSlot;
  const here = slots.findIndex(({ played }) => played.startTicks <= startTicks && startTicks < played.endTicks);
  const next = slots[here + 1];
  const pushes = next !== undefined && next.chord !== null && next.played.startTicks - startTicks === cellTicks;
  const comesIn = startTicks === slots[here]?.played.startTicks;
  return pushes && !comesIn ? here + 1 : here;
}

/** The voicing's notes that lie below all the line sounds while the chord is held. */
function belowSolo({ pitches }: Voicing, solo: readonly SoloNote[], from: number, to: number): Pitch[] {
  const sounding = solo.filter((note) => note.startTicks < to && note.startTicks + note.durationTicks > from);
  const lowest = Math.min(...sounding.map(({ pitch }) => midiOf(pitch)));
  return pitches.filter((pitch) => midiOf(pitch) < lowest);
}

/** Lowest key of a chord that had to go under the line. Common practice: two voices a third apart are still clear there. */
const LOWEST_UNDER = 46;

/** What of a voicing is struck under a low line where the chord must sound: its two lowest notes, an octave down if there is room. */
function underSolo({ pitches }: Voicing): readonly Pitch[] {
  const low = pitches.slice(0, FEWEST_NOTES);
  const down = low.map((pitch) => ({ ...pitch, octave: pitch.octave - 1 }));
  return down.every((pitch) => midiOf(pitch) >= LOWEST_UNDER) ? down : low;
}

function chordsOfStrikes(
  analysis: Analysis,
  voicings: readonly (Voicing | undefined)[],
  solo: readonly SoloNote[],
  strikes: readonly Strike[],
): CompChord[] {
  return strikes.flatMap((strike, index): CompChord[] => {
    const slotIndex = slotOfStrike(analysis, strike);
    const voicing = voicings[slotIndex];
    const slot = analysis.slots[slotIndex];
    if (voicing === undefined || slot === undefined) return [];
    const chordEnd = slot.played.endTicks;
    const nextStrike = strikes[index + 1]?.startTicks ?? analysis.form.endTicks;
    const held = Math.min(chordEnd, nextStrike) - strike.startTicks;
    const durationTicks = strike.length === 'long' ? held : Math.min(held, strike.cellTicks);
    const below = belowSolo(voicing, solo, strike.startTicks, strike.startTicks + durationTicks);
    const pitches = below.length < FEWEST_NOTES && strike.forSlot !== undefined ? underSolo(voicing) : below;
    if (pitches.length < FEWEST_NOTES || durationTicks <= 0) return [];
    return [{ startTicks: strike.startTicks, durationTicks, slotIndex, form: voicing.form, pitches }];
  });
}

/** A voicing as one hand has it: its left hand's notes where that alone is a chord. */
const inLeftHand = (voicing: Voicing): Voicing =>
  voicing.left < FEWEST_NOTES
    ? voicing
    : { ...voicing, pitches: voicing.pitches.slice(0, voicing.left), keys: voicing.keys.slice(0, voicing.left) };

/**
 * The voicings a trio comps, led through the form; those that are pinned as they are. Their colours are those of the chord-scale the line
 * plays, or none that rub with it.
 */
function compedVoicings(
  analysis: Analysis,
  style: VoicingStyle,
  ceilings: readonly (number | undefined)[],
  { plan, pinned = [] }: Pick<CompingOptions, 'plan' | 'pinned'>,
): readonly (Voicing | undefined)[] {
  const scales = plan?.slots.map(({ chordScale }) => chordScale) ?? [];
  const pins = pinnedKeysOf(analysis, pinned);
  const isPinned = new Set(pins.map(({ slotIndex }) => slotIndex));
  const led = leadVoicings(analysis, style, { ceilings, pins, scales });
  return led.map((voicing, index) => (voicing !== undefined && isPinned.has(index) ? inLeftHand(voicing) : voicing));
}

/**
 * The left hand's chords in a trio: voicings led through the whole form, struck in rhythms of the metre, feel and tempo. Where the right hand is
 * busy it plays less, in its rests it answers; it stays below it, and a chord that comes on the last cell before a change is
 * already the coming one. Every chord sounds, pushed or while it lasts; a pickup's does not. Common practice; weights are our own.
 * @example comp(analysis, { style: 'rootless', solo: chorus, random: randomSource(1, 'comping') })
 */
export function comp(analysis: Analysis, options: CompingOptions): CompChord[] {
  const { style, solo, random, density = 'usual' } = options;
  const { feel = analysis.chart.feel, tempoBpm = USUAL_BPM } = options;
  const voicings = compedVoicings(analysis, style, ceilingsOf(analysis, solo), options);
  const strikes = strikesOf(analysis.form.bars, solo, random, { feel, tempoBpm, density });
  const sounding = new Set(chordsOfStrikes(analysis, voicings, solo, strikes).map(({ slotIndex }) => slotIndex));
  const silent = analysis.slots.filter(
    ({ chord, played }) => chord !== null && played.playedBar.bar.number !== 0 && !sounding.has(played.index),
  );
  if (silent.length === 0) return chordsOfStrikes(analysis, voicings, solo, strikes);
  const added = silent.map((slot) => strikeFor(slot, solo));
  const places = new Set(added.map(({ startTicks }) => startTicks));
  const all = [...strikes.filter(({ startTicks }) => !places.has(startTicks)), ...added];
  return chordsOfStrikes(
    analysis,
    voicings,
    solo,
    all.toSorted((a, b) => a.startTicks - b.startTicks),
  );
}
