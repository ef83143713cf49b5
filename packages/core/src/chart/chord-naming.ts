import {
  accidentalsOf,
  isWritableOn,
  modulo,
  notesOfKey,
  pitchClassOf,
  stepOf,
  type Chord,
  type ChordSymbol,
  type Key,
  type NoteName,
} from '../theory/index.ts';

/*
 * Which name a transposed chord's root takes: docs/spelling.md, rules (f) and (g). Common practice. The cheapest way through all
 * chords is found exactly; integer costs, our own.
 */

/** A chord on its way to another key. */
export interface MovingChord {
  readonly chord: ChordSymbol;
  /** How far it moves on the line of fifths, as the key of its stretch does. */
  readonly interval: number;
  /** The key it comes to; null where none is stated. */
  readonly key: Key | null;
}

const COST = {
  /** A goal spelled away from its V, or a V from its ii: more than all chords of a long cadence renamed. */
  cadenceTorn: 400,
  /** Other roots a fifth apart that are no longer written so. */
  fifthTorn: 12,
  /** Neighbours one of which is renamed and the other not. */
  edge: 1,
  /** A substitute, or a diminished chord in passing, that is not written a letter from where it goes. */
  stepTorn: 5,
  /** A root that is not where the interval puts it. */
  renamed: 2,
  /** A dominant, substitute or backdoor, on C♭, F♭, E♯ or B♯, or a diminished chord on C♭ or F♭, where the key does not have that note. */
  uneasy: 6,
  /** The key's own tonic by another name than the key's. */
  foreignTonic: 1000,
  /** A chord of the key on another name than the key's. */
  foreignChord: 20,
  /** A chord's own 3, 5, 6 or 7 with a double accidental. */
  doubleNote: 4,
} as const;

/** The names of a root: where the interval puts it, and twelve or twenty-four fifths either way. */
const TURNS = [0, -12, 12, -24, 24] as const;

const isDominant = ({ quality }: Pick<Chord, 'quality'>): boolean => quality === 'dominant' || quality === 'suspended';

/** G flat and A sharp: the furthest roots that are neither C♭ nor F♭, neither E♯ nor B♯. */
const LOWEST_EASY = -6;
const HIGHEST_EASY = 10;

const isUneasy = (root: number): boolean => root < LOWEST_EASY || root > HIGHEST_EASY;

/**
 * How far above a key's tonic roots are written, on the line of fifths, by what stands on them: in C no maj7 on C♯, no m7 on D♯,
 * no dominant on G♯, but a diminished chord on each of them.
 */
const HIGHEST: Readonly<Record<Chord['quality'], number>> = {
  major: 6,
  augmented: 7,
  power: 7,
  dominant: 7,
  suspended: 7,
  minor: 8,
  'half-diminished': 9,
  diminished: 9,
};
/** And how far below: down to G♭ in C, but the diminished chord there stands on F♯. */
const lowestOf = (chord: Chord): number => (chord.quality.endsWith('diminished') ? -5 : -6);

/**
 * Where a root is in the key that it comes to: as the interval puts it, or, where nobody would write it so in any key, as it
 * is written. So a name that another key forced on the chart is left behind there: Bm7 E7 in G♭ are Fm7 B♭7 in C.
 */
function anchorOf({ chord, interval, key }: MovingChord & { readonly chord: Chord }): number {
  let root = chord.root + interval;
  if (key === null) return root;
  while (root - key.tonic > HIGHEST[chord.quality]) root -= 12;
  while (root - key.tonic < lowestOf(chord)) root += 12;
  return root;
}

/** Whether a chord on the tonic is the tonic's: in major also as a seventh chord; a minor chord there is on its way. */
const isAtHome = ({ quality }: Chord, { mode }: Key): boolean =>
  quality === mode || (mode === 'major' && isDominant({ quality }));

/** What it costs to write a chord of the key, the tonic before all, by another name than the key's. */
function foreignCost(chord: Chord, root: number, key: Key): number {
  const scale = notesOfKey(key);
  if (scale.includes(root as NoteName)) return 0;
  const sound = pitchClassOf(root as NoteName);
  if (sound === pitchClassOf(key.tonic) && isAtHome(chord, key)) return COST.foreignTonic;
  const name = scale.find((each) => pitchClassOf(each) === sound);
  if (name === undefined) return 0;
  const isOfKey = chord.degrees.every((each) => scale.includes((name + each) as NoteName));
  return isOfKey ? COST.foreignChord : 0;
}

function standingCost(chord: Chord, root: number, key: Key | null, turn: number): number {
  const isDiminished = chord.quality === 'diminished';
  // what a diminished chord would have double is played simple, rule (e)
  const steps = isDiminished ? [] : [2, 4, 6];
  const own = chord.degrees.filter((each) => steps.includes(stepOf(each)));
  const doubles = own.filter((each) => Math.abs(accidentalsOf((root + each) as NoteName)) > 1).length;
  const inKey = key !== null && notesOfKey(key).includes(root as NoteName);
  const isOnBadRoot = isDiminished ? root < LOWEST_EASY : isUneasy(root) && isDominant(chord);
  const uneasy = isOnBadRoot && !inKey ? COST.uneasy : 0;
  const foreign = key === null ? 0 : foreignCost(chord, root, key);
  return foreign + doubles * COST.doubleNote + uneasy + (turn === 0 ? 0 : COST.renamed);
}

/** What binds two neighbours: how far apart their roots are written on the line of fifths, and what it costs to tear them apart. */
interface Bond {
  readonly fifths: number;
  readonly cost: number;
}

/**
 * The bonds by semitones from a root to the next: same chord, V–I and ii–V, a m6 and the ø that is its inversion, that ø and its V,
 * a diminished chord and the next one a half step up or down, a substitute and its goal.
 */
function bondBetween(one: Chord, next: Chord): Bond | null {
  const isMinor = one.quality === 'minor' || one.quality === 'half-diminished';
  switch (modulo(pitchClassOf(next.root) - pitchClassOf(one.root), 12)) {
    case 0:
      return one.suffix === next.suffix ? { fifths: 0, cost: COST.cadenceTorn } : null;
    case 1:
      return one.quality === 'diminished' ? { fifths: -5, cost: COST.stepTorn } : null;
    case 11:
      return one.quality === 'diminished' || isDominant(one) ? { fifths: 5, cost: COST.stepTorn } : null;
    case 5:
      return { fifths: -1, cost: isDominant(one) || (isMinor && isDominant(next)) ? COST.cadenceTorn : COST.fifthTorn };
    case 8:
      return one.quality === 'half-diminished' && isDominant(next) ? { fifths: -4, cost: COST.cadenceTorn } : null;
    case 9:
      return isMinor && next.quality === 'half-diminished' ? { fifths: 3, cost: COST.cadenceTorn } : null;
    default:
      return null;
  }
}

/** What two neighbours cost as they are written; a substitute is not pulled on C♭, F♭, E♯ or B♯: into G♭ write G7. */
function tornCost({ fifths, cost }: Bond, from: number, to: number): number {
  if (to - from === fifths) return 0;
  return cost === COST.stepTorn && isUneasy(to - fifths) ? 0 : cost;
}

interface Way {
  readonly root: number;
  readonly turn: number;
  readonly total: number;
  readonly before: Way | null;
}

function waysOf(moving: MovingChord & { readonly chord: Chord }): Omit<Way, 'before'>[] {
  const { chord, key } = moving;
  const exact = anchorOf(moving);
  const turns = TURNS.filter((turn) => isWritableOn(exact + turn, chord.degrees));
  return turns.map((turn) => {
    const root = exact + turn;
    return { root, turn: root - exact, total: standingCost(chord, root, key, turn) };
  });
}

/**
 * The roots of chords in another key, in their order; undefined for N.C. The chords of one cadence are named together.
 * @returns roots with one accidental at most.
 */
export function rootsInKey(chords: readonly MovingChord[]): (NoteName | undefined)[] {
  const roots: (NoteName | undefined)[] = chords.map(() => undefined);
  const sounding = chords.flatMap((each, index) =>
    each.chord.kind === 'chord' ? [{ ...each, chord: each.chord, index }] : [],
  );
  let row: Way[] = [];
  for (const [order, each] of sounding.entries()) {
    const before = sounding[order - 1];
    const bond = before === undefined ? null : bondBetween(before.chord, each.chord);
    row = waysOf(each).map((way): Way => {
      let best: Way | null = null;
      let least = Infinity;
      for (const from of row) {
        const torn = bond === null ? 0 : tornCost(bond, from.root, way.root);
        const cost = from.total + torn + (from.turn === way.turn ? 0 : COST.edge);
        if (cost < least) [least, best] = [cost, from];
      }
      return { ...way, total: way.total + (best === null ? 0 : least), before: best };
    });
  }
  const [first, final] = [sounding[0], sounding.at(-1)];
  const round = first === undefined || final === undefined ? null : bondBetween(final.chord, first.chord);
  // the form goes round: a substitute in the last bar leads to the first
  const wholeCost = ({ total, root }: Way): number =>
    total + (round?.cost === COST.stepTorn && first !== undefined ? tornCost(round, root, anchorOf(first)) : 0);
  let last: Way | null = row.reduce<Way | null>(
    (best, each) => (best === null || wholeCost(each) < wholeCost(best) ? each : best),
    null,
  );
  for (let order = sounding.length - 1; order >= 0 && last !== null; order--) {
    roots[(sounding[order] as (typeof sounding)[number]).index] = last.root as NoteName;
    last = last.before;
  }
  return roots;
}

/** F flat and B sharp, the furthest names of one accidental on the line of fifths. */
const SIMPLEST_FLAT = -8;
const SIMPLEST_SHARP = 12;

/** A written bass beside its chord's new root; on its plain name where it would need a double accidental. */
export function bassInKey(chord: Chord, root: NoteName): NoteName | null {
  if (chord.bass === null) return null;
  let fifths = chord.bass + (root - chord.root);
  // more than once where root and bass were written with sharps and double flats: B#7/Fbb
  while (fifths < SIMPLEST_FLAT) fifths += 12;
  while (fifths > SIMPLEST_SHARP) fifths -= 12;
  return fifths as NoteName;
}
