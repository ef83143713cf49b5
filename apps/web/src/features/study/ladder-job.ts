import {
  choicesOfAnalysis,
  keysOf,
  midi,
  pitchClassOf,
  roughnessOver,
  type Analysis,
  type AnalysedSlot,
  type ChordScale,
  type Chord,
  type Family,
  type HandSize,
  type NoteName,
  type SlotId,
} from '@fivespan/core';
import type { Job } from '../../platform/workers/index.ts';

/** A chord whose ladder is to be studied, in its analysis. */
export interface LadderOrder {
  readonly analysis: Analysis;
  readonly slotIndex: number;
  readonly hand: HandSize;
}

/** What a rung of the ladder puts under the hand. */
export interface StudiedRung {
  /** The chord-scale's id in the slot's ladder. */
  readonly id: string;
  /** The family the route would take in this chord-scale; null where no shape has a position. */
  readonly family: Family | null;
  /** Of the family's positions over the chord's reference voicing, in the mean, 0 to 1, after Sethares 1993; of the chord-scale where it has none. */
  readonly roughness: number;
}

/** Where a position's thumb, or a chord-scale, is laid to be measured: the octave from middle C. */
const MEASURED_FROM = 60;

/**
 * How rough a chord-scale is to the hand: the mean over its family's positions, each over the chord's reference voicing. All its
 * notes at once would be a cluster whatever the scale, and tell little.
 */
export function roughnessOfRung(chord: Chord, notes: readonly NoteName[], family: Family | null): number {
  const positions = family?.positions ?? [];
  if (positions.length === 0) {
    return roughnessOver(
      chord,
      notes.map((note) => midi(MEASURED_FROM + pitchClassOf(note))),
    );
  }
  const each = positions.map((position) =>
    roughnessOver(chord, keysOf(position, midi(MEASURED_FROM + pitchClassOf(position.thumb)))),
  );
  return each.reduce((sum, value) => sum + value, 0) / each.length;
}

/** The ladder again, each rung a slot of its own that is pinned to it: the route's own choices for each. */
function slotForRung(slot: AnalysedSlot, rung: ChordScale): AnalysedSlot {
  const { played } = slot;
  return { ...slot, played: { ...played, slot: { ...played.slot, id: rung.id as SlotId } } };
}

/** Families and roughness of every rung of a chord's ladder. */
export function studyLadder({ analysis, slotIndex, hand }: LadderOrder): readonly StudiedRung[] {
  const slot = analysis.slots[slotIndex];
  const chord = slot?.chord ?? null;
  if (slot === undefined || chord === null) return [];
  const rungs = slot.chordScales;
  const slots = rungs.map((rung) => slotForRung(slot, rung));
  const { pass } = slot.played.playedBar;
  const chordScales = rungs.map(({ id }) => ({ slot: id, pass, chordScale: id }));
  const choices = choicesOfAnalysis(
    { ...analysis, slots },
    { pins: { chordScales, positions: [], secondScales: [] }, hand, level: 1, curve: rungs.map(() => 0) },
  );
  return rungs.map(({ id, notes }, index) => {
    const family = choices[index]?.[0]?.family ?? null;
    return { id, family, roughness: roughnessOfRung(chord, notes, family) };
  });
}

export const ladderJob: Job<LadderOrder, readonly StudiedRung[]> = async (order) => ({ value: studyLadder(order) });
