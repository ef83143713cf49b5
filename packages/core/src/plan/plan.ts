import type { AnalysedSlot, ChordScale } from '../analysis/index.ts';
import type { Family, Position } from '../hand/index.ts';
import type { Midi } from '../theory/index.ts';

/** What the hand does over one played slot. */
export interface PlannedSlot {
  readonly analysed: AnalysedSlot;
  /** The chord-scale in use; null for N.C. only. */
  readonly chordScale: ChordScale | null;
  /** The family the position comes from; null where no shape serves. */
  readonly family: Family | null;
  readonly position: Position | null;
  /** Where the thumb is; null where there is no position. */
  readonly thumbMidi: Midi | null;
  /** Thumb travel from the slot before, along the keyboard. */
  readonly travelMm: number;
}

/** One chord-scale and one position for every played slot. */
export interface Plan {
  /** One for each of the form's slots, in order. */
  readonly slots: readonly PlannedSlot[];
  readonly totalTravelMm: number;
}

/** What a teacher may fix in the plan. A pin names a slot id and a pass. */
export interface PlanPins {
  /** Chord-scale by its id in the slot's ladder. */
  readonly chordScales: readonly { readonly slot: string; readonly pass: number; readonly chordScale: string }[];
  /** Shape and thumb, as a MIDI note. */
  readonly positions: readonly {
    readonly slot: string;
    readonly pass: number;
    readonly shape: string;
    readonly thumbMidi: number;
  }[];
  /** A second chord-scale of the slot's ladder, whose family a free hand may go to besides the plan's own. */
  readonly secondScales: readonly { readonly slot: string; readonly pass: number; readonly chordScale: string }[];
}

export const NO_PLAN_PINS: PlanPins = { chordScales: [], positions: [], secondScales: [] };
