import {
  formatDegree,
  pitchClassOf,
  transposeSet,
  type Key,
  type NoteName,
  type PitchClassSet,
  type Scale,
  type ScaleFamily,
} from '../../theory/index.ts';

/** Moves in a player's words, by semitones up: the shorter way. Common practice. */
const MOVES = [
  'stay',
  'up a half step',
  'up a whole step',
  'up a minor third',
  'up a major third',
  'down a fifth',
  'tritone',
  'up a fifth',
  'down a major third',
  'down a minor third',
  'down a whole step',
  'down a half step',
] as const;

/** Where a family's first mode stands, seen from the chord's root, in a player's words. */
const STANDS = [
  'on the root',
  'a half step up',
  'a whole step up',
  'a minor third up',
  'a major third up',
  'a fourth up',
  'a tritone away',
  'a fifth up',
  'a major third down',
  'a minor third down',
  'a whole step down',
  'a half step down',
] as const;

/** Semitones of each mode's root above its family's first. */
const MODE_STEPS: Readonly<Partial<Record<ScaleFamily, readonly number[]>>> = {
  major: [0, 2, 4, 5, 7, 9, 11],
  'melodic minor': [0, 2, 3, 5, 7, 9, 11],
  'harmonic minor': [0, 2, 3, 5, 7, 8, 11],
  'harmonic major': [0, 2, 4, 5, 7, 8, 11],
};

/** Where the family's first mode stands, as a pitch class; undefined where the family has no such mode. */
function parentClass(scale: Scale): number | undefined {
  const { family, mode } = scale.kind;
  const steps = MODE_STEPS[family];
  if (steps === undefined || mode === null) return undefined;
  return (pitchClassOf(scale.root) - (steps[mode - 1] as number) + 12) % 12;
}

/**
 * How the region's plain scale (major, or the natural minor) is moved to get to a scale, in a player's words. A mode of
 * the major scale is a move of the whole family: `stay`, `up a fifth`. Another family is named with where it stands above
 * the chord's root: `melodic minor a half step up` is altered. A bebop scale adds its passing note to the mode: `add 7`. A
 * scale without a family is its own name.
 * @example moveTo({ kind: SCALE_KINDS.lydian, root: noteName('F') }, noteName('F'), parseKey('F major')!) // → 'up a fifth'
 */
export function moveTo(scale: Scale, chordRoot: NoteName, key: Key): string {
  const { passing } = scale.kind;
  if (passing !== null) return `add ${formatDegree(passing)}`;
  const parent = parentClass(scale);
  if (parent === undefined) return scale.kind.name;
  if (scale.kind.family === 'major') {
    const home = pitchClassOf(key.tonic) + (key.mode === 'major' ? 0 : 3);
    return MOVES[(parent - home + 24) % 12] as string;
  }
  return `${scale.kind.family} ${STANDS[(parent - pitchClassOf(chordRoot) + 12) % 12] as string}`;
}

/** The shorter moves first; of equals fifths, then fourths, then the tritone. */
const TRIED = [0, 1, 11, 2, 10, 3, 9, 4, 8, 7, 5, 6] as const;

/**
 * The one change that turns one scale into the next, in a player's words, where moving its positions does it:
 * Locrian natural 2 on Fm7b5 goes `up a minor third` to altered on Bb7.
 * @returns undefined where no move does: the scales are of different kinds.
 * @example moveBetween(setOfScale({ kind: SCALE_KINDS.dorian, root: noteName('G') }), setOfScale({ kind: SCALE_KINDS.dorian, root: noteName('Db') })) // → 'tritone'
 */
export function moveBetween(from: PitchClassSet, to: PitchClassSet): string | undefined {
  const semitones = TRIED.find((each) => transposeSet(from, each) === to);
  return semitones === undefined ? undefined : MOVES[semitones];
}
