import { keysOf, type Position } from '../../hand/index.ts';
import { formatNoteName, midiOf, pitchAt, roughnessOver, type Chord, type Midi } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';
import { familiesOf, reportFamily, type FamilyReport } from './analysis-report.ts';
import { beatReported } from './as-written.ts';

/** The public JSON of `positions`, version 1: docs/json.md. One entry for each chord each time it is played. */
export interface PositionsReport {
  readonly version: 1;
  readonly slots: readonly {
    readonly slot: string;
    readonly pass: number;
    readonly bar: number;
    readonly beat: number;
    readonly symbol: string;
    /** Id and name of the chord-scale in use; null for N.C. */
    readonly chordScale: { readonly id: string; readonly name: string; readonly root: string } | null;
    /** The families of that chord-scale, best first as the table of shapes has them. */
    readonly families: readonly FamilyReport[];
    /** Where the hand is; null where it rests. */
    readonly position: {
      readonly shape: string;
      readonly thumb: string;
      readonly thumbMidi: number;
      readonly notes: readonly { readonly name: string; readonly midi: number; readonly finger: number }[];
      readonly travelMm: number;
      /** Roughness over the chord's reference voicing, 0 to 1, after Sethares 1993 and Hutchinson & Knopoff 1978. */
      readonly roughness: { readonly sethares: number; readonly hutchinsonKnopoff: number };
    } | null;
  }[];
  readonly totalTravelMm: number;
}

/** Three decimals: the last bits of a float differ between machines, the bytes of a report must not. */
const rounded = (value: number): number => Math.round(value * 1000) / 1000;

function roughnessOf(chord: Chord | null, position: Position, thumbMidi: Midi) {
  if (chord === null) return { sethares: 0, hutchinsonKnopoff: 0 };
  const keys = keysOf(position, thumbMidi);
  return {
    sethares: rounded(roughnessOver(chord, keys, 'sethares')),
    hutchinsonKnopoff: rounded(roughnessOver(chord, keys, 'hutchinson-knopoff')),
  };
}

/** Where the hand goes, as public JSON. */
export function reportPositions({ plan }: Lesson): PositionsReport {
  return {
    version: 1,
    slots: plan.slots.map(({ analysed, chordScale, position, thumbMidi, travelMm }) => ({
      slot: analysed.played.slot.id,
      pass: analysed.played.playedBar.pass,
      bar: analysed.played.playedBar.bar.number,
      beat: beatReported(analysed.played.beat),
      symbol: analysed.played.slot.chord.symbol,
      chordScale:
        chordScale === null
          ? null
          : { id: chordScale.id, name: chordScale.name, root: formatNoteName(chordScale.scale.root) },
      families: chordScale === null ? [] : familiesOf(chordScale).map((family) => reportFamily(family, chordScale)),
      position:
        position === null || thumbMidi === null
          ? null
          : {
              shape: position.shape.name,
              thumb: formatNoteName(position.thumb),
              thumbMidi,
              notes: position.notes.map((name, index) => {
                const midi = (thumbMidi + (position.shape.steps[index] as number)) as Midi;
                return { name: formatNoteName(name), midi: midiOf(pitchAt(name, midi)), finger: index + 1 };
              }),
              travelMm,
              roughness: roughnessOf(analysed.chord, position, thumbMidi),
            },
    })),
    totalTravelMm: plan.totalTravelMm,
  };
}
