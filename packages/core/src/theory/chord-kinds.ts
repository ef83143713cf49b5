import { degrees, type Degree } from './degree.ts';

/** A kind of chord: how its symbol is written after the root, and its degrees. */
export interface ChordKind {
  /** The canonical spelling: `m7b5`, `maj7`; the empty string is the major triad. */
  readonly suffix: string;
  /** As stacked, see Chord. */
  readonly degrees: readonly Degree[];
  /**
   * Other spellings of the same kind. Variants of a word (M, ma, maj, Δ, ^; m, mi, min, -; °, o, dim; +, aug),
   * parentheses and commas need no entry: the reader takes them all.
   */
  readonly also: readonly string[];
}

function kind(suffix: string, spelled: string, also: readonly string[] = []): ChordKind {
  return { suffix, degrees: degrees(spelled), also };
}

/**
 * Every kind of chord that has a name of its own; whatever else a symbol adds, alters or omits is worked out from these.
 * A new kind is one row. Common practice; pitch classes checked against chord-symbol in checks/theory/chord-symbol.test.ts.
 * A 13th chord with a major third has no 11th, an 11th chord with a major third is played with the fourth in the
 * third's place; a minor 13th chord, or one written with 9 and 13, has its 11th. 'alt' holds every altered tension and no fifth: flat five and sharp five are its #11 and b13.
 */
export const CHORD_KINDS_BY_SYMBOL: readonly ChordKind[] = [
  kind('', '1 3 5', ['maj']),
  kind('m', '1 b3 5'),
  kind('+', '1 3 #5', ['#5']),
  kind('dim', '1 b3 b5', ['mb5']),
  kind('5', '1 5'),
  kind('sus', '1 4 5', ['sus4', '4']),
  kind('sus2', '1 2 5'),

  kind('6', '1 3 5 6', ['maj6', 'add6', 'add13']),
  kind('m6', '1 b3 5 6', ['madd6']),
  kind('6/9', '1 3 5 6 9', ['maj6/9']),
  kind('m6/9', '1 b3 5 6 9'),
  kind('6sus', '1 4 5 6', ['6sus4']),

  kind('7', '1 3 5 b7', ['dom7']),
  kind('9', '1 3 5 b7 9', ['dom9']),
  kind('13', '1 3 5 b7 9 13', ['dom13']),
  kind('7sus', '1 4 5 b7', ['7sus4', 'sus7', 'sus4/7']),
  kind('7sus2', '1 2 5 b7'),
  kind('9sus', '1 4 5 b7 9', ['9sus4', 'sus9', '11', 'dom11']),
  kind('13sus', '1 4 5 b7 9 13', ['13sus4', 'sus13']),
  kind('+7', '1 3 #5 b7', ['7+']),
  kind('+9', '1 3 #5 b7 9', ['9+']),
  kind('7alt', '1 3 b7 b9 #9 #11 b13', ['alt', 'alt7']),

  kind('maj7', '1 3 5 7'),
  kind('maj9', '1 3 5 7 9'),
  kind('maj13', '1 3 5 7 9 13'),
  kind('maj7sus', '1 4 5 7', ['maj7sus4']),
  kind('maj9sus', '1 4 5 7 9', ['maj9sus4', 'maj11']),
  kind('+maj7', '1 3 #5 7', ['maj7+']),
  kind('+maj9', '1 3 #5 7 9', ['maj9+']),

  kind('m7', '1 b3 5 b7'),
  kind('m9', '1 b3 5 b7 9'),
  kind('m11', '1 b3 5 b7 9 11'),
  kind('m13', '1 b3 5 b7 9 11 13', ['m9(13)', 'm7(9,13)']),
  kind('m13(omit11)', '1 b3 5 b7 9 13'),
  kind('m(maj7)', '1 b3 5 7', ['mmaj']),
  kind('m(maj9)', '1 b3 5 7 9', ['m9(maj7)']),
  kind('m(maj11)', '1 b3 5 7 9 11'),
  kind('m(maj13)', '1 b3 5 7 9 11 13', ['m(maj9)(13)', 'm(maj7)(9,13)']),
  kind('m(maj13)(omit11)', '1 b3 5 7 9 13'),

  kind('m7b5', '1 b3 b5 b7', ['ø', 'ø7']),
  kind('m9b5', '1 b3 b5 b7 9', ['ø9']),
  kind('m11b5', '1 b3 b5 b7 9 11', ['ø11']),
  kind('dim7', '1 b3 b5 bb7'),
  kind('dim9', '1 b3 b5 bb7 9'),
  kind('dim(maj7)', '1 b3 b5 7'),
  kind('dim7(maj7)', '1 b3 b5 bb7 7', ['dim7addmaj7']),
];
