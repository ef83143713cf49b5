import { positionOver } from '../../hand/index.ts';
import type { FindingCode, Finding, JudgedTake, PraiseCode } from '../../take/index.ts';
import { formatNoteName } from '../../theory/index.ts';

/** The public JSON of `take`, version 1: docs/json.md. */
export interface TakeReport {
  readonly version: 1;
  readonly tempoBpm: number;
  readonly bars: readonly {
    readonly bar: number;
    readonly chorus: number;
    readonly slots: readonly {
      readonly slot: string;
      readonly symbol: string;
      readonly positions: readonly { readonly thumb: string; readonly shape: string; readonly share: number }[];
      readonly kind: 'family' | 'other move' | 'outside';
      readonly sure: number | null;
    }[];
    readonly hanging: number;
    readonly lateMs: number | null;
    readonly swing: number | null;
  }[];
  readonly findings: readonly Finding[];
  readonly wentWell: readonly PraiseCode[];
  readonly workOn: readonly FindingCode[];
}

/** A judged take as public JSON. */
export function reportTake(judged: JudgedTake, tempoBpm: number): TakeReport {
  return {
    version: 1,
    tempoBpm: Math.round(tempoBpm * 100) / 100,
    bars: judged.bars.map(({ bar, slots, hanging, lateMs, swing }) => ({
      bar: bar.number,
      chorus: bar.chorus,
      slots: slots.map(({ slot, positions, kind, sure }) => {
        const { analysed, chordScale, family } = slot.planned;
        return {
          slot: analysed.played.slot.id,
          symbol: analysed.played.slot.chord.symbol,
          positions: positions.map(({ thumb, shape, position, share }) => {
            // a place the lesson has not is spelled as near to its chord-scale as it goes
            const spelled =
              position ??
              (family === null || chordScale === null
                ? null
                : positionOver(family.shape, thumb, chordScale.notes, chordScale.kept));
            return {
              thumb: spelled === null ? '' : formatNoteName(spelled.thumb),
              shape: spelled?.shape.name ?? shape,
              share,
            };
          }),
          kind,
          sure,
        };
      }),
      hanging,
      lateMs,
      swing,
    })),
    findings: judged.findings,
    wentWell: judged.wentWell,
    workOn: judged.workOn.map(({ code }) => code),
  };
}
