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
  /** A root that is not where the interval puts it. */
  renamed: 2,
  /** A dominant, substitute or backdoor, on C♭, F♭, E♯ or B♯ where the key does not have that note. */
  uneasy: 6,
  /** The key's own tonic by another name than the key's. */
  foreignTonic: 1000,
  /** A chord's own 3, 5, 6 or 7 with a double accidental. */
  doubleNote: 2,
} as const;

/** The names of a root: where the interval puts it, and twelve or twenty-four fifths either way. */
const TURNS = [0, -12, 12, -24, 24] as const;

const isDominant = (chord: Chord): boolean => chord.quality === 'dominant' || chord.quality === 'suspended';

const isUneasy = (root: number): boolean => root < -6 || root > 10;

function standingCost(chord: Chord, root: number, key: Key | null, turn: number): number {
  const own = chord.degrees.filter((each) => [2, 4, 6].includes(stepOf(each)));
  const doubles = own.filter((each) => Math.abs(accidentalsOf((root + each) as NoteName)) > 1).length;
  const inKey = key !== null && notesOfKey(key).includes(root as NoteName);
  const uneasy = isUneasy(root) && !inKey && isDominant(chord) ? COST.uneasy : 0;
  const isTonic =
    key !== null && chord.quality === key.mode && pitchClassOf(root as NoteName) === pitchClassOf(key.tonic);
  const foreign = isTonic && root !== key.tonic ? COST.foreignTonic : 0;
  return foreign + doubles * COST.doubleNote + uneasy + (turn === 0 ? 0 : COST.renamed);
}

/** What binds two neighbours: how far apart their roots are written on the line of fifths, and what it costs to tear them apart. */
interface Bond {
  readonly fifths: number;
  readonly cost: number;
}

/** The bonds by semitones from a root to the next: same chord, V–I and ii–V, a m6 and the ø that is its inversion, that ø and its V. */
function bondBetween(one: Chord, next: Chord): Bond | null {
  const isMinor = one.quality === 'minor' || one.quality === 'half-diminished';
  switch (modulo(pitchClassOf(next.root) - pitchClassOf(one.root), 12)) {
    case 0:
      return one.suffix === next.suffix ? { fifths: 0, cost: COST.cadenceTorn } : null;
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

interface Way {
  readonly root: number;
  readonly turn: number;
  readonly total: number;
  readonly before: Way | null;
}

function waysOf({ chord, interval, key }: MovingChord & { readonly chord: Chord }): Omit<Way, 'before'>[] {
  const exact = chord.root + interval;
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
        const torn = bond !== null && way.root - from.root !== bond.fifths ? bond.cost : 0;
        const cost = from.total + torn + (from.turn === way.turn ? 0 : COST.edge);
        if (cost < least) [least, best] = [cost, from];
      }
      return { ...way, total: way.total + (best === null ? 0 : least), before: best };
    });
  }
  let last: Way | null = row.reduce<Way | null>(
    (best, each) => (best === null || each.total < best.total ? each : best),
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
