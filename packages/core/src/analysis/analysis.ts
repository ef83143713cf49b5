import type { Chart, Form, PlayedSlot } from '../chart/index.ts';
import type { Chord, Key, NoteName } from '../theory/index.ts';
import type { ChordScale } from './chord-scale.ts';

/**
 * What a chord does in its key. 'tonic' is home (I, also iii and vi standing for it), 'predominant' leads to a dominant
 * (ii, IV), 'dominant' leads home; the applied ones do so towards another degree.
 */
export type Role =
  | 'tonic'
  | 'predominant'
  | 'dominant'
  | 'applied predominant' // the ii of a key that is not the region's: ii/ii
  | 'applied dominant' // V/ii, V/V …
  | 'substitute dominant' // subV, subV/ii
  | 'backdoor predominant' // iv before ♭VII7
  | 'backdoor dominant' // ♭VII7 going to I
  | 'passing diminished'
  | 'auxiliary diminished'
  | 'borrowed' // from the parallel key or mode
  | 'modal' // in a stretch that rests on one mode
  | 'constant structure'
  | 'unexplained'
  | 'none'; // N.C.

/** Why a chord reads as it does: a code and its arguments; words are made at the edge. */
export interface Reason {
  readonly code: string;
  readonly args: Readonly<Record<string, string>>;
}

/** A stretch of the form in one key. */
export interface Region {
  readonly key: Key;
  /** Index of its first slot in the form, and of the first slot after it. */
  readonly fromSlot: number;
  readonly toSlot: number;
}

/** One reading of a chord in its region. */
export interface Reading {
  readonly key: Key;
  /** ASCII: `iim7`, `V7`, `subV7`, `V7/ii`, `bVII7`; empty for N.C. */
  readonly numeral: string;
  readonly role: Role;
  readonly reason: Reason;
  /** Degree of the key the chord leads to, where it is a dominant or its predominant: the target's root. */
  readonly target: NoteName | null;
  /** The mode of what it leads to, where known: decides V of minor against V of major. */
  readonly targetMode: Key['mode'] | null;
}

/** A played slot, explained. */
export interface AnalysedSlot {
  readonly played: PlayedSlot;
  readonly chord: Chord | null;
  readonly reading: Reading;
  /** Other good readings, best first, each with how much worse it is (integer cost over the chosen one). */
  readonly alternatives: readonly { readonly reading: Reading; readonly costAbove: number }[];
  /** The ladder, inside first. Never empty where there is a chord. */
  readonly chordScales: readonly ChordScale[];
}

/** Figures found as groups. `docs/json.md` lists and explains each. */
export type CadenceKind =
  | 'ii-V-I'
  | 'ii-V'
  | 'V-I'
  | 'ii-subV-I'
  | 'subV-I'
  | 'backdoor'
  | 'extended dominants'
  | 'turnaround'
  | 'plagal'
  | 'diminished passing'
  | 'diminished auxiliary'
  | 'line cliche'
  | 'blues'
  | 'minor blues'
  | 'rhythm form'
  | 'rhythm bridge'
  | 'modal stretch'
  | 'modal interchange'
  | 'constant structure';

/** A figure: its key and the slots that make it, in order. */
export interface Cadence {
  readonly kind: CadenceKind;
  readonly key: Key;
  /** Indices of slots in the form. */
  readonly slots: readonly number[];
}

export interface Analysis {
  readonly chart: Chart;
  readonly form: Form;
  /** The stated key, else the found one. */
  readonly key: Key;
  readonly keyFound: Key;
  readonly regions: readonly Region[];
  /** One for each of the form's slots, in order. */
  readonly slots: readonly AnalysedSlot[];
  readonly cadences: readonly Cadence[];
}

/** What a teacher may fix in the analysis. A pin names a slot id and a pass. */
export interface AnalysisPins {
  /** Keys of stretches, each from one slot to the slot where the next begins. */
  readonly regions: readonly { readonly slot: string; readonly pass: number; readonly key: Key }[];
  /** Numerals the teacher prefers; must be among the readings' alternatives. */
  readonly numerals: readonly { readonly slot: string; readonly pass: number; readonly numeral: string }[];
}

export const NO_ANALYSIS_PINS: AnalysisPins = { regions: [], numerals: [] };
