import {
  degreeAbove,
  familyIn,
  modulo,
  notesOfChord,
  pitchClassOf,
  stepOf,
  type AnalysedSlot,
  type AvoidNote,
  type Chord,
  type ChordScale,
  type Family,
  type NoteName,
  type Shape,
} from '@fivespan/core';

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

/** What rubs in a chord-scale over its chord. */
export function rubbingNotes(chord: Chord, chordScale: ChordScale, family: Family | null): readonly RubbingNote[] {
  const positions = family?.positions ?? [];
  return chordScale.avoid.map((avoid) => {
    const below = notesOfChord(chord).find((tone) => modulo(pitchClassOf(avoid.note) - pitchClassOf(tone), 12) === 1);
    const without = positions.filter((each) => !each.notes.some((note) => isSameKey(note, avoid.note)));
    return {
      avoid,
      above: below === undefined ? null : { note: below, step: stepOf(degreeAbove(chord.root, below)) },
      leftOutBy: without.length < positions.length ? without.map(({ thumb }) => thumb) : [],
    };
  });
}

/** The next rung on the same root in which nothing rubs, with each note that did altered; undefined where there is none. */
export function smootherScale(
  slot: AnalysedSlot,
  chord: Chord,
  chordScale: ChordScale,
  shape: Shape,
): SmootherScale | undefined {
  if (chordScale.avoid.length === 0) return undefined;
  for (const other of slot.chordScales) {
    if (!isSameKey(other.scale.root, chord.root) || other.avoid.length > 0 || other.missing.length > 0) continue;
    if (other.outsideness.guideTonesLost > 0) continue;
    const changes = chordScale.avoid.flatMap((avoid) => {
      const step = stepOf(degreeAbove(chord.root, avoid.note));
      const to = other.notes.find((each) => stepOf(degreeAbove(other.scale.root, each)) === step);
      return to === undefined || isSameKey(to, avoid.note) ? [] : [{ from: avoid.note, to }];
    });
    if (changes.length < chordScale.avoid.length) continue;
    const family = familyIn(shape, other.notes);
    if (family.positions.length > 0) return { chordScale: other, family, changes };
  }
  return undefined;
}
