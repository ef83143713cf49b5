import { positionOver } from '../../hand/index.ts';
import type { FindingCode, Finding, JudgedTake, OwnLine, PraiseCode } from '../../take/index.ts';
import { formatKey, formatNoteName } from '../../theory/index.ts';
import type { TakeAsPlayed } from '../judge-as-played.ts';

/** How a hand met the line that the lesson has for it, note by note. */
interface LineReport {
  readonly written: number;
  readonly matched: number;
  /** MIDI numbers, with their bars on paper. */
  readonly missed: readonly { readonly bar: number; readonly key: number }[];
  readonly extra: readonly { readonly bar: number; readonly key: number }[];
}

/** The public JSON of `take`, version 1: docs/json.md. */
export interface TakeReport {
  readonly version: 1;
  readonly tempoBpm: number;
  /** How sure the beats are, where nobody stated the tempo and they were found; null where it was stated. */
  readonly beatsSure: number | null;
  /** The key it was played in and judged by, and whether that is the one asked for. */
  readonly key: string;
  readonly isKeyAsked: boolean;
  /** The level of the lesson it was judged by. */
  readonly level: number;
  /** null where a hand played another line than the lesson's. */
  readonly line: { readonly right: LineReport | null; readonly left: LineReport | null };
  /** How far the hands stray from each other, ms; null where they share too few beats. */
  readonly together: { readonly value: number; readonly sure: number; readonly behindMs: number } | null;
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

function reportLine(own: OwnLine | null): LineReport | null {
  if (own === null) return null;
  const { written, matched, missed, extra } = own;
  return { written, matched, missed, extra };
}

function reportTogether({ together }: JudgedTake): TakeReport['together'] {
  return together === null ? null : { ...together.stray, behindMs: together.behindMs };
}

/** A judged take as public JSON. */
export function reportTake(
  { judged, lesson, playedIn }: TakeAsPlayed,
  tempoBpm: number,
  beatsSure: number | null = null,
): TakeReport {
  return {
    version: 1,
    tempoBpm: Math.round(tempoBpm * 100) / 100,
    beatsSure,
    key: formatKey(lesson.analysis.key),
    isKeyAsked: playedIn === null,
    level: lesson.choices.level,
    line: { right: reportLine(judged.right.own), left: reportLine(judged.left.own) },
    together: reportTogether(judged),
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
