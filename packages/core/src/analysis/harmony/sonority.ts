import { chordFromDegrees, degrees, pitchClassOf, setOfChord, type Chord, type Degree } from '../../theory/index.ts';

/**
 * What an upper chord over a bass outside it sounds as, on that bass: by the chord's kind and the semitones from its root up to
 * the bass. Source: common practice (F/G is G9sus, G/C a Cmaj9 without its third, D/C a Lydian C, Gb/C C7(b5,b9), E/G
 * G13(b9), Ab/G G7sus(b9), C/A Am7, Bdim7/G G7(b9)).
 */
const MAJOR: Readonly<Record<number, readonly Degree[]>> = {
  2: degrees('1 4 5 b7 9'),
  3: degrees('1 3 5 b7 b9 13'),
  5: degrees('1 5 7 9'),
  6: degrees('1 3 b5 b7 b9'),
  8: degrees('1 3 #5 7'),
  9: degrees('1 b3 5 b7'),
};
const LYDIAN_OVER_SEVENTH = degrees('1 3 5 6 9 #11');
const PHRYGIAN_OVER_SEVENTH = degrees('1 4 5 b7 b9');
const MINOR: Readonly<Record<number, readonly Degree[]>> = {
  2: PHRYGIAN_OVER_SEVENTH,
  5: degrees('1 4 5 b7 9'),
  8: degrees('1 3 5 7'),
  9: degrees('1 b3 b5 b7'),
};
const DIMINISHED_OVER_DOMINANT = degrees('1 3 5 b7 b9');
const HALF_DIMINISHED_OVER_DOMINANT = degrees('1 3 5 b7 9');

/** The chords beside one, as far as they decide what a bass under it does. */
export interface Beside {
  readonly previous: Chord | null;
  readonly next: Chord | null;
}

const up = (from: Chord['root'], to: Chord['root']): number => (pitchClassOf(to) - pitchClassOf(from) + 12) % 12;

function degreesOver(
  { root, quality, degrees: own }: Chord,
  bass: Chord['root'],
  { previous, next }: Beside,
): readonly Degree[] | undefined {
  const distance = up(root, bass);
  // a bass that moves under a held chord (Cm Cm/Bb, G G/F) is a line
  const isLine = previous !== null && previous.root === root;
  switch (quality) {
    case 'major': {
      const goal = next === null ? -1 : up(bass, next.root);
      // D/C that goes to G is D7 over its seventh
      if (distance === 10 && own.length === 3 && !isLine)
        return next !== null && up(root, next.root) === 5 ? undefined : LYDIAN_OVER_SEVENTH;
      if (distance === 11 && !isLine) return goal === 5 ? PHRYGIAN_OVER_SEVENTH : undefined;
      return MAJOR[distance];
    }
    case 'minor':
      return isLine ? undefined : MINOR[distance];
    case 'diminished':
      return distance % 3 === 2 && !isLine ? DIMINISHED_OVER_DOMINANT : undefined;
    case 'half-diminished':
      return distance === 8 ? HALF_DIMINISHED_OVER_DOMINANT : undefined;
    case 'dominant':
    case 'augmented':
    case 'suspended':
    case 'power':
      return undefined;
    default:
      return quality satisfies never;
  }
}

/**
 * The chord a slash chord sounds as: root and upper chord as one sonority on the bass, its symbol as written. The chord itself
 * where its bass is one of its notes, or passes under it.
 * @example soundingChord(chord('F/G'), { previous: null, next: null }).suffix // → '9sus'
 */
export function soundingChord(chord: Chord, beside: Beside): Chord {
  const { bass } = chord;
  if (bass === null || (setOfChord(chord) & (1 << pitchClassOf(bass))) !== 0) return chord;
  const found = degreesOver(chord, bass, beside);
  const sounding = found === undefined ? undefined : chordFromDegrees(bass, found, null);
  return sounding === undefined ? chord : { ...sounding, symbol: chord.symbol };
}
