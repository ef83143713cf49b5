import { degreeInScale, type AvoidNote, type ChordScale } from '../analysis/index.ts';
import { familyIn, type Family, type Shape } from '../hand/index.ts';
import {
  asKept,
  degreeAbove,
  modulo,
  notesOfChord,
  pitchClassOf,
  stepOf,
  type Chord,
  type NoteName,
} from '../theory/index.ts';

/** An avoid note of a chord-scale, and what to do about it. */
export interface RubbingNote {
  readonly avoid: AvoidNote;
  /** The chord's note a half step below, and its step above the root (2 is the third); null where it rubs for another reason. */
  readonly above: { readonly note: NoteName; readonly step: number } | null;
  /** Thumbs of the family's positions that leave it out; empty where all or none do. */
  readonly leftOutBy: readonly NoteName[];
}

/** A chord-scale of the same ladder in which nothing rubs. */
export interface SmootherScale {
  readonly chordScale: ChordScale;
  readonly family: Family;
  readonly changes: readonly { readonly from: NoteName; readonly to: NoteName }[];
}

function isSameKey(a: NoteName, b: NoteName): boolean {
  return pitchClassOf(a) === pitchClassOf(b);
}

/**
 * What rubs in a chord-scale over its chord.
 * @param family the positions the hand takes in it; null where it has none
 */
export function rubbingNotes(chord: Chord, chordScale: ChordScale, family: Family | null): readonly RubbingNote[] {
  const positions = family?.positions ?? [];
  return chordScale.avoid.map((avoid) => {
    const below = notesOfChord(chord).find((tone) => modulo(pitchClassOf(avoid.note) - pitchClassOf(tone), 12) === 1);
    const without = positions.filter((each) => !each.notes.some((note) => isSameKey(note, avoid.note)));
    return {
      avoid,
      above:
        below === undefined
          ? null
          : { note: asKept(below, chordScale.kept), step: stepOf(degreeAbove(chord.root, below)) },
      leftOutBy: without.length < positions.length ? without.map(({ thumb }) => thumb) : [],
    };
  });
}

/**
 * The first rung of a ladder on the chord's own root that holds the chord and in which nothing rubs, with each note that did
 * altered: A flat becomes A. Other scales may be as smooth, but a player would have to learn them, not to alter one note.
 * @param shape the shape in use; a rung in which it has no position is passed over
 * @returns undefined where there is none, and where nothing rubs
 */
export function smootherScale(
  ladder: readonly ChordScale[],
  chord: Chord,
  chordScale: ChordScale,
  shape: Shape,
): SmootherScale | undefined {
  if (chordScale.avoid.length === 0) return undefined;
  for (const other of ladder) {
    // a scale moved to sound like the chord's own root may be spelled from its enharmonic
    if (!isSameKey(other.scale.root, chord.root) || other.avoid.length > 0 || other.missing.length > 0) continue;
    if (other.outsideness.guideTonesLost > 0) continue;
    const changes = chordScale.avoid.flatMap((avoid) => {
      const step = stepOf(degreeInScale(chord, chordScale, avoid.note));
      const to = other.notes.find((each) => stepOf(degreeInScale(chord, other, each)) === step);
      return to === undefined || isSameKey(to, avoid.note) ? [] : [{ from: avoid.note, to }];
    });
    if (changes.length < chordScale.avoid.length) continue;
    const family = familyIn(shape, other.notes, other.kept);
    if (family.positions.length > 0) return { chordScale: other, family, changes };
  }
  return undefined;
}
