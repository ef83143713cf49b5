import {
  rankedKeys,
  wordsOfLadderReason,
  wordsOfReason,
  type Analysis,
  type AnalysedSlot,
  type ChordScale,
  type Reason,
} from '../../analysis/index.ts';
import { barsOf, formatMeter } from '../../chart/index.ts';
import { familyIn, USUAL_SHAPES, type Family } from '../../hand/index.ts';
import { bluesFingersIn } from '../../plan/index.ts';
import { formatKey, formatNoteName, namesOfChord, pitchClassOf, type Key, type NoteName } from '../../theory/index.ts';
import { beatReported, chordsAsWritten, placeOfSlot, type BarBeat } from './as-written.ts';

export interface FamilyReport {
  readonly shape: string;
  readonly thumbs: readonly string[];
  readonly complete: boolean;
  readonly positions: readonly {
    readonly thumb: string;
    readonly notes: readonly string[];
    readonly avoid: readonly string[];
  }[];
}

export interface ChordScaleReport {
  readonly id: string;
  readonly name: string;
  readonly root: string;
  readonly notes: readonly string[];
  readonly inside: boolean;
  readonly outsideness: { readonly guideTonesLost: number; readonly notesOutsideKey: number };
  readonly move: string;
  readonly chordTones: readonly string[];
  readonly tensions: readonly string[];
  readonly avoid: readonly { readonly note: string; readonly resolvesTo: readonly string[] }[];
  /** Notes of the chord that the scale does not hold. */
  readonly missing: readonly string[];
  readonly reason: ReasonReport;
  readonly families: readonly FamilyReport[];
}

/** Why something is so: a code with arguments, and the same in English. */
export interface ReasonReport {
  readonly code: string;
  readonly args: Readonly<Record<string, string>>;
  readonly text: string;
}

export interface ChordReport {
  readonly slot: string;
  readonly bar: number;
  readonly beat: number;
  readonly beats: number;
  readonly symbol: string;
  readonly notes: readonly string[];
  readonly key: string;
  readonly numeral: string;
  readonly role: string;
  readonly reason: ReasonReport;
  /** Other good readings, best first; `costAbove` is how much worse than the chosen one. */
  readonly alternatives: readonly {
    readonly key: string;
    readonly numeral: string;
    readonly role: string;
    readonly reason: ReasonReport;
    readonly costAbove: number;
  }[];
  readonly chordScales: readonly ChordScaleReport[];
}

/** The public JSON of `analyse`, version 1: docs/json.md. */
export interface AnalysisReport {
  readonly version: 1;
  readonly chart: {
    readonly title: string;
    readonly key: string;
    readonly keyFound: string;
    /** Other keys it could be in, best first, and how much worse each is than the one found. */
    readonly otherKeys: readonly { readonly key: string; readonly costAbove: number }[];
    readonly meter: string;
    readonly tempoBpm: number | null;
    readonly barCount: number;
  };
  readonly regions: readonly { readonly from: BarBeat; readonly to: BarBeat; readonly key: string }[];
  readonly chords: readonly ChordReport[];
  readonly cadences: readonly { readonly kind: string; readonly key: string; readonly slots: readonly string[] }[];
}

/** How many keys are listed beside the one found. */
const OTHER_KEYS_TOLD = 3;

const names = (notes: readonly NoteName[]): string[] => notes.map(formatNoteName);

/** The families of the usual shapes inside a chord-scale, in a blues scale also the five fingers with its flat fifth; none without a position. */
export function familiesOf(chordScale: ChordScale): Family[] {
  const usual = USUAL_SHAPES.map((shape) => familyIn(shape, chordScale.notes, chordScale.kept));
  return [...usual, ...bluesFingersIn(chordScale)].filter((family) => family.positions.length > 0);
}

/** One family as JSON, with the avoid notes each position holds. */
export function reportFamily(family: Family, chordScale: ChordScale): FamilyReport {
  const avoid = new Set(chordScale.avoid.map((each) => pitchClassOf(each.note)));
  return {
    shape: family.shape.name,
    thumbs: family.positions.map((position) => formatNoteName(position.thumb)),
    complete: family.complete,
    positions: family.positions.map((position) => ({
      thumb: formatNoteName(position.thumb),
      notes: names(position.notes),
      avoid: names(position.notes.filter((note) => avoid.has(pitchClassOf(note)))),
    })),
  };
}

function reportReason(reason: Reason, text: string | undefined): ReasonReport {
  return { code: reason.code, args: reason.args, text: text ?? '' };
}

function reportChordScale(chordScale: ChordScale): ChordScaleReport {
  return {
    id: chordScale.id,
    name: chordScale.name,
    root: formatNoteName(chordScale.scale.root),
    notes: names(chordScale.notes),
    inside: chordScale.inside,
    outsideness: chordScale.outsideness,
    move: chordScale.move,
    chordTones: names(chordScale.chordTones),
    tensions: names(chordScale.tensions),
    avoid: chordScale.avoid.map((each) => ({
      note: formatNoteName(each.note),
      resolvesTo: each.resolvesTo.map((resolution) => formatNoteName(resolution.note)),
    })),
    missing: names(chordScale.missing),
    reason: reportReason(chordScale.reason, wordsOfLadderReason(chordScale.reason)),
    families: familiesOf(chordScale).map((family) => reportFamily(family, chordScale)),
  };
}

function reportChord({ played, chord, reading, alternatives, chordScales }: AnalysedSlot): ChordReport {
  return {
    slot: played.slot.id,
    bar: played.playedBar.bar.number,
    beat: beatReported(played.beat),
    beats: beatReported(played.beats),
    symbol: played.slot.chord.symbol,
    notes: chord === null ? [] : names(namesOfChord(chord, reading.key)),
    key: formatKey(reading.key),
    numeral: reading.numeral,
    role: reading.role,
    reason: reportReason(reading.reason, wordsOfReason(reading.reason)),
    alternatives: alternatives.map(({ reading: other, costAbove }) => ({
      key: formatKey(other.key),
      numeral: other.numeral,
      role: other.role,
      reason: reportReason(other.reason, wordsOfReason(other.reason)),
      costAbove,
    })),
    chordScales: chordScales.map(reportChordScale),
  };
}

/** Regions over the written chords: neighbours in one key, joined. */
function regionsAsWritten(chords: readonly AnalysedSlot[]): AnalysisReport['regions'] {
  const regions: { from: BarBeat; to: BarBeat; key: Key }[] = [];
  for (const { played, reading } of chords) {
    const { from, to } = placeOfSlot(played);
    const open = regions.at(-1);
    if (open !== undefined && formatKey(open.key) === formatKey(reading.key)) open.to = to;
    else regions.push({ from, to, key: reading.key });
  }
  return regions.map((region) => ({ ...region, key: formatKey(region.key) }));
}

/** Cadences by the ids of their written slots; one that comes again with a repeated bar is listed once. */
function cadencesAsWritten(analysis: Analysis): AnalysisReport['cadences'] {
  const seen = new Set<string>();
  return analysis.cadences
    .map(({ kind, key, slots }) => ({
      kind,
      key: formatKey(key),
      slots: slots.map((index) => (analysis.slots[index] as AnalysedSlot).played.slot.id),
    }))
    .filter((cadence) => {
      const identity = JSON.stringify(cadence);
      if (seen.has(identity)) return false;
      seen.add(identity);
      return true;
    });
}

/**
 * What the changes mean, as public JSON. A bar that is played more than once is reported as it reads the first time.
 * @example reportAnalysis(analyse(chart, NO_ANALYSIS_PINS)).chords[0].numeral // → 'iim7'
 */
export function reportAnalysis(analysis: Analysis): AnalysisReport {
  const { chart } = analysis;
  const chords = chordsAsWritten(analysis);
  return {
    version: 1,
    chart: {
      title: chart.title,
      key: formatKey(analysis.key),
      keyFound: formatKey(analysis.keyFound),
      otherKeys: rankedKeys(chart)
        .filter(({ key }) => formatKey(key) !== formatKey(analysis.keyFound))
        .slice(0, OTHER_KEYS_TOLD)
        .map(({ key, costAbove }) => ({ key: formatKey(key), costAbove })),
      meter: formatMeter(chart.meter),
      tempoBpm: chart.tempoBpm,
      barCount: barsOf(chart).filter((bar) => bar.number > 0).length,
    },
    regions: regionsAsWritten(chords),
    chords: chords.map(reportChord),
    cadences: cadencesAsWritten(analysis),
  };
}
