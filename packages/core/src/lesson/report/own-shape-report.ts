import type { Analysis } from '../../analysis/index.ts';
import { classOfShape, familyIn, reachOf, type HandSize, type ReachVerdict, type Shape } from '../../hand/index.ts';
import { shapeDemands, type PlanPins } from '../../plan/index.ts';
import { formatNoteName, pitchClassOf } from '../../theory/index.ts';

/** How a player's own shape does for a chord: the words of docs/plan.md, `inside` where it is only in the chord-scale. */
export type OwnShapeVerdict = 'covers' | 'serves' | 'inside' | 'no place';

/** The public JSON of `shapes --own`, version 1: docs/json.md. */
export interface OwnShapeReport {
  readonly version: 1;
  readonly own: { readonly class: string; readonly steps: readonly number[]; readonly name: string };
  readonly chords: readonly {
    readonly slot: string;
    readonly pass: number;
    readonly bar: number;
    readonly symbol: string;
    readonly chordScale: string;
    readonly verdict: OwnShapeVerdict;
    readonly thumbs: readonly {
      readonly thumb: string;
      readonly notes: readonly string[];
      readonly reach: ReachVerdict;
    }[];
  }[];
}

/** What a player's own shape does over every chord of a chart, as public JSON: the chord-scale in use, its thumbs there. */
export function reportOwnShape(analysis: Analysis, shape: Shape, hand: HandSize, pins: PlanPins): OwnShapeReport {
  return {
    version: 1,
    own: { class: classOfShape(shape).forte, steps: shape.steps, name: shape.name },
    chords: shapeDemands(analysis, undefined, pins).flatMap(({ slotIndex, chordScales, guideTones }) => {
      const slot = analysis.slots[slotIndex];
      const [chordScale] = chordScales;
      if (slot === undefined || chordScale === undefined) return [];
      const { played } = slot;
      const { positions, complete } = familyIn(shape, chordScale.notes);
      const serves = positions.some(({ set }) => (guideTones & ~set) === 0);
      return [
        {
          slot: played.slot.id,
          pass: played.playedBar.pass,
          bar: played.playedBar.bar.number,
          symbol: played.slot.chord.symbol,
          chordScale: `${formatNoteName(chordScale.scale.root)} ${chordScale.name}`,
          verdict: positions.length === 0 ? 'no place' : complete ? 'covers' : serves ? 'serves' : 'inside',
          thumbs: positions.map(({ thumb, notes }) => ({
            thumb: formatNoteName(thumb),
            notes: notes.map(formatNoteName),
            reach: reachOf(shape, pitchClassOf(thumb), hand).verdict,
          })),
        },
      ];
    }),
  };
}
