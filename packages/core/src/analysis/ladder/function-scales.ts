import { SCALE_KINDS, type Chord, type ScaleKind } from '../../theory/index.ts';

/** What a chord does, as far as its chord-scales differ. */
export type ChordFunction =
  | 'tonic major'
  | 'Lydian major' // IV, and major chords from outside the key
  | 'tonic minor' // Im, Im6, Im(maj7)
  | 'tonic minor seventh'
  | 'predominant minor' // ii, iv, and minor chords from outside the key
  | 'third minor'
  | 'sixth minor'
  | 'melodic minor chord' // m6 and m(maj7) away from home
  | 'dominant of major'
  | 'dominant of the second' // V/ii
  | 'dominant of minor'
  | 'altered dominant'
  | 'augmented dominant'
  | 'Lydian dominant' // subV, bVII7, IV7
  | 'modal dominant'
  | 'blues tonic'
  | 'suspended dominant'
  | 'suspended dominant of minor'
  | 'suspended flat ninth'
  | 'second of minor'
  | 'half-diminished'
  | 'leading-note triad'
  | 'leading-note seventh' // vii°7 in minor
  | 'diminished'
  | 'augmented major'
  | 'augmented triad'
  | 'plain mode'; // the key's plain scale from the chord's root

/** The scales of a function, its own first. The first that holds the whole chord is the first rung. */
interface FunctionScales {
  readonly scales: readonly ScaleKind[];
  /** How many of them, from the front, are usual enough to be inside though the region's key lacks a note of theirs. */
  readonly usual: number;
}

const {
  ionian,
  dorian,
  phrygian,
  lydian,
  mixolydian,
  aeolian,
  locrian,
  melodicMinor,
  dorianFlat2,
  lydianAugmented,
  lydianFlat7,
  mixolydianFlat13,
  locrianNatural2,
  altered,
  harmonicMinor,
  harmonicMajor,
  locrianNatural6,
  ionianAugmented,
  mixolydianFlat9Flat13,
  mixolydianFlat9,
  mixolydianFlat9Sharp9Flat13,
  alteredDoubleFlat7,
  halfWhole,
  wholeHalf,
  wholeTone,
} = SCALE_KINDS;

/**
 * Which scales a function takes, in the order a player tries them. Source: docs/sources.md, 6 (functions named
 * in the table: Dorian on ii, Lydian b7 on bVII7, IV7 and subV, Mixolydian b13 on V/ii, Mixolydian b9 #9 b13 on V/iii
 * and V/vi), the rest common practice. What the chord writes decides within a list: V7 takes Mixolydian, V7(b9) the
 * half-whole, V7(#11) Lydian b7, because the ones before do not hold it.
 */
export const FUNCTION_SCALES: Readonly<Record<ChordFunction, FunctionScales>> = {
  'tonic major': { usual: 1, scales: [ionian, lydian, harmonicMajor] },
  'Lydian major': { usual: 1, scales: [lydian, ionian] },
  'tonic minor': { usual: 1, scales: [melodicMinor, dorian, harmonicMinor, aeolian] },
  'tonic minor seventh': { usual: 2, scales: [dorian, aeolian, phrygian] },
  'predominant minor': { usual: 1, scales: [dorian, aeolian, phrygian] },
  'third minor': { usual: 1, scales: [phrygian, aeolian, dorian] },
  'sixth minor': { usual: 1, scales: [aeolian, dorian, phrygian] },
  'melodic minor chord': { usual: 1, scales: [melodicMinor, harmonicMinor, dorian] },
  'dominant of major': {
    usual: 1,
    scales: [
      mixolydian,
      lydianFlat7,
      mixolydianFlat13,
      halfWhole,
      mixolydianFlat9,
      mixolydianFlat9Flat13,
      mixolydianFlat9Sharp9Flat13,
      altered,
      wholeTone,
    ],
  },
  'dominant of the second': {
    usual: 1,
    scales: [
      mixolydianFlat13,
      mixolydianFlat9Flat13,
      mixolydianFlat9Sharp9Flat13,
      altered,
      mixolydian,
      halfWhole,
      mixolydianFlat9,
      lydianFlat7,
      wholeTone,
    ],
  },
  'dominant of minor': {
    usual: 1,
    scales: [
      mixolydianFlat9Flat13,
      mixolydianFlat9Sharp9Flat13,
      mixolydianFlat13,
      altered,
      mixolydian,
      halfWhole,
      mixolydianFlat9,
      lydianFlat7,
      wholeTone,
    ],
  },
  'altered dominant': { usual: 1, scales: [altered, mixolydianFlat9Sharp9Flat13, halfWhole, wholeTone] },
  'augmented dominant': { usual: 1, scales: [wholeTone, altered, mixolydianFlat13] },
  'Lydian dominant': {
    usual: 1,
    scales: [lydianFlat7, mixolydian, halfWhole, mixolydianFlat13, mixolydianFlat9Flat13, altered, wholeTone],
  },
  'modal dominant': { usual: 1, scales: [mixolydian, lydianFlat7, halfWhole, mixolydianFlat9Flat13] },
  'blues tonic': {
    usual: 2,
    scales: [mixolydian, lydianFlat7, halfWhole, mixolydianFlat13, mixolydianFlat9Flat13, altered, wholeTone],
  },
  'suspended dominant': { usual: 1, scales: [mixolydian, dorian, mixolydianFlat13, aeolian] },
  'suspended dominant of minor': { usual: 1, scales: [phrygian, dorianFlat2, mixolydianFlat9Flat13] },
  'suspended flat ninth': { usual: 1, scales: [dorianFlat2, phrygian, mixolydianFlat9] },
  'second of minor': { usual: 2, scales: [locrianNatural2, locrian, locrianNatural6] },
  'half-diminished': { usual: 1, scales: [locrian, locrianNatural2, locrianNatural6] },
  'leading-note triad': { usual: 1, scales: [locrian, wholeHalf] },
  'leading-note seventh': { usual: 1, scales: [alteredDoubleFlat7, wholeHalf] },
  diminished: { usual: 1, scales: [wholeHalf, alteredDoubleFlat7] },
  'augmented major': { usual: 1, scales: [lydianAugmented, ionianAugmented] },
  'augmented triad': { usual: 1, scales: [wholeTone, lydianAugmented, ionianAugmented] },
  'plain mode': { usual: 0, scales: [] },
};

/** What a dominant may take though it does not hold every note of the chord. Common practice. */
export const OUTSIDE_ON_DOMINANTS: readonly ScaleKind[] = [
  altered,
  lydianFlat7,
  halfWhole,
  wholeTone,
  mixolydianFlat13,
  mixolydianFlat9Flat13,
];

/** Bebop scales belong to one quality of chord each. Source: common practice (the names say so). */
const BEBOP_OF_QUALITY: Readonly<Partial<Record<Chord['quality'], readonly ScaleKind[]>>> = {
  dominant: [SCALE_KINDS.bebopDominant],
  suspended: [SCALE_KINDS.bebopDominant],
  major: [SCALE_KINDS.bebopMajor],
  minor: [SCALE_KINDS.bebopDorian, SCALE_KINDS.bebopMelodicMinor],
  'half-diminished': [SCALE_KINDS.bebopLocrian],
};

/** Functions over which the blues scale is played. Common practice. */
const BLUES_FUNCTIONS: ReadonlySet<ChordFunction> = new Set(['blues tonic', 'tonic minor', 'tonic minor seventh']);

/** Whether a scale of this family is played over such a chord at all; what it holds is another question. */
export function isPlayedOver(kind: ScaleKind, chord: Chord, chordFunction: ChordFunction): boolean {
  if (kind.family === 'bebop') return BEBOP_OF_QUALITY[chord.quality]?.includes(kind) === true;
  if (kind.family === 'blues') return BLUES_FUNCTIONS.has(chordFunction);
  return true;
}
