import { degrees, noteAbove, type Degree } from './degree.ts';
import type { NoteName } from './note-name.ts';
import { setOfNotes, type PitchClassSet } from './pitch-class-set.ts';

/** A kind of scale: its name and degrees. */
export interface ScaleKind {
  /** Stable identifier: `locrian-natural-2`. */
  readonly id: string;
  /** The name a musician uses, ASCII: `Locrian natural 2`, `Lydian b7`, `altered`. */
  readonly name: string;
  /** From the root up, spelled by function. */
  readonly degrees: readonly Degree[];
}

/** A scale on a root. */
export interface Scale {
  readonly kind: ScaleKind;
  readonly root: NoteName;
}

/** The scale's notes from its root up, spelled. */
export function notesOfScale(scale: Scale): NoteName[] {
  return scale.kind.degrees.map((each) => noteAbove(scale.root, each));
}

export function setOfScale(scale: Scale): PitchClassSet {
  return setOfNotes(notesOfScale(scale));
}

function kind(id: string, name: string, spelled: string): ScaleKind {
  return { id, name, degrees: degrees(spelled) };
}

/**
 * Scale kinds by id. Source of contents: ../shared reference, section 6 (names and spelling by function), checked
 * against @musodojo/music-theory-data in checks/. A new kind is one row here and one in analysis/ladder.
 */
export const SCALE_KINDS = {
  ionian: kind('ionian', 'Ionian', '1 2 3 4 5 6 7'),
  dorian: kind('dorian', 'Dorian', '1 2 b3 4 5 6 b7'),
  phrygian: kind('phrygian', 'Phrygian', '1 b2 b3 4 5 b6 b7'),
  lydian: kind('lydian', 'Lydian', '1 2 3 #4 5 6 7'),
  mixolydian: kind('mixolydian', 'Mixolydian', '1 2 3 4 5 6 b7'),
  aeolian: kind('aeolian', 'Aeolian', '1 2 b3 4 5 b6 b7'),
  locrian: kind('locrian', 'Locrian', '1 b2 b3 4 b5 b6 b7'),
} as const satisfies Record<string, ScaleKind>;
