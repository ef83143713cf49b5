import type { Analysis, AnalysedSlot } from '../../analysis/index.ts';
import type { ShapeAnswer, ShapeSearch, ShapeSearchCounts } from '../../plan/index.ts';
import { formatNoteName } from '../../theory/index.ts';

/** The public JSON of `shapes`, version 1: docs/json.md. */
export interface ShapesReport {
  readonly version: 1;
  readonly answers: readonly {
    /** `class` is Forte's name of the notes' transposition class; `steps` are semitones from the thumb. */
    readonly shapes: readonly { readonly class: string; readonly steps: readonly number[]; readonly name: string }[];
    readonly chords: readonly {
      readonly slot: string;
      readonly symbol: string;
      readonly chordScale: string;
      /** Index in `shapes`; null where no shape serves the chord. */
      readonly shape: number | null;
      readonly thumbs: readonly string[];
      readonly complete: boolean;
    }[];
    readonly positions: number;
    /** Positions out of this hand's reach, or near its limit. */
    readonly outOfReach: number;
    readonly nearLimit: number;
    /** Counts that prove there is no smaller answer. */
    readonly searched: ShapeSearchCounts;
  }[];
}

/** The fewest five-note shapes for a chart, as public JSON, best first. */
export function reportShapes(analysis: Analysis, { answers, searched }: ShapeSearch): ShapesReport {
  const slotOf = (index: number): AnalysedSlot => analysis.slots[index] as AnalysedSlot;
  return {
    version: 1,
    answers: answers.map(({ shapes, chords, positions, kindness }: ShapeAnswer) => ({
      shapes: shapes.map(({ shapeClass, shape }) => ({
        class: shapeClass.forte,
        steps: shape.steps,
        name: shape.name,
      })),
      chords: chords.map(({ slotIndex, chordScale, shapeIndex, family, complete }) => ({
        slot: slotOf(slotIndex).played.slot.id,
        symbol: slotOf(slotIndex).played.slot.chord.symbol,
        chordScale: chordScale.name,
        shape: shapeIndex,
        thumbs: family?.positions.map((position) => formatNoteName(position.thumb)) ?? [],
        complete,
      })),
      positions,
      outOfReach: kindness.outOfReach,
      nearLimit: kindness.nearLimit,
      searched,
    })),
  };
}
