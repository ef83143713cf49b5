import { classesOf, modulo, sizeOf, transposeSet, type PitchClassSet } from '../theory/index.ts';

/**
 * Forte's list of five-note set classes with their prime forms. Source: Forte 1973, 'The Structure of Atonal Music',
 * appendix 1 (from memory; the classes named in docs/sources.md, 8, agree, and checks/theory/forte.test.ts proves
 * every prime form by Forte's algorithm and the order by the interval vectors). Z: another class has the same vector.
 */
const FORTE_PENTACHORDS: readonly (readonly [name: string, primeForm: string])[] = [
  ['5-1', '01234'],
  ['5-2', '01235'],
  ['5-3', '01245'],
  ['5-4', '01236'],
  ['5-5', '01237'],
  ['5-6', '01256'],
  ['5-7', '01267'],
  ['5-8', '02346'],
  ['5-9', '01246'],
  ['5-10', '01346'],
  ['5-11', '02347'],
  ['5-Z12', '01356'],
  ['5-13', '01248'],
  ['5-14', '01257'],
  ['5-15', '01268'],
  ['5-16', '01347'],
  ['5-Z17', '01348'],
  ['5-Z18', '01457'],
  ['5-19', '01367'],
  ['5-20', '01378'],
  ['5-21', '01458'],
  ['5-22', '01478'],
  ['5-23', '02357'],
  ['5-24', '01357'],
  ['5-25', '02358'],
  ['5-26', '02458'],
  ['5-27', '01358'],
  ['5-28', '02368'],
  ['5-29', '01368'],
  ['5-30', '01468'],
  ['5-31', '01369'],
  ['5-32', '01469'],
  ['5-33', '02468'],
  ['5-34', '02469'],
  ['5-35', '02479'],
  ['5-Z36', '01247'],
  ['5-Z37', '03458'],
  ['5-Z38', '01258'],
];

/** One of Forte's classes. */
export interface Pentachord {
  readonly name: string;
  /** Semitones from its first note, most packed to the left. */
  readonly primeForm: readonly number[];
  /** How often each interval class 1 to 6 occurs. */
  readonly intervalVector: readonly number[];
}

export const PENTACHORDS: readonly Pentachord[] = FORTE_PENTACHORDS.map(([name, digits]) => {
  const primeForm = [...digits].map(Number);
  return { name, primeForm, intervalVector: intervalVectorOf(setOfSteps(primeForm)) };
});

const pentachordOfPrimeForm = new Map(PENTACHORDS.map((each) => [each.primeForm.join(' '), each]));

/** The set holding these semitones above C. */
export function setOfSteps(steps: readonly number[]): PitchClassSet {
  return steps.reduce((mask, step) => mask | (1 << step), 0) as PitchClassSet;
}

/** How often each interval class 1 to 6 occurs between two notes of the set. */
export function intervalVectorOf(set: PitchClassSet): number[] {
  return [1, 2, 3, 4, 5, 6].map((interval) => {
    const pairs = sizeOf((set & transposeSet(set, interval)) as PitchClassSet);
    // a tritone is found from both of its ends
    return interval === 6 ? pairs / 2 : pairs;
  });
}

/** The set upside down: what lay above C is below it. */
export function invertedSet(set: PitchClassSet): PitchClassSet {
  return setOfSteps(classesOf(set).map((each) => modulo(12 - each, 12)));
}

/** Orderings of a set from each of its notes, as semitones above that note. */
function rotationsOf(set: PitchClassSet): number[][] {
  const classes = classesOf(set);
  return classes.map((first) => classes.map((each) => modulo(each - first, 12)).sort((a, b) => a - b));
}

/**
 * Compares two orderings as Forte does: the smaller span from first to last note, then the smaller distance from the
 * first note to the second, to the third, and so on. Source: Forte 1973, section 1.2 (from memory).
 */
function compareAsForte(a: readonly number[], b: readonly number[]): number {
  const span = (a.at(-1) ?? 0) - (b.at(-1) ?? 0);
  if (span !== 0) return span;
  for (const [index, each] of a.entries()) if (each !== b[index]) return each - (b[index] as number);
  return 0;
}

/** The normal order of a set after Forte, as semitones above its first note. */
export function normalOrderOf(set: PitchClassSet): readonly number[] {
  return rotationsOf(set).sort(compareAsForte)[0] ?? [];
}

/** The prime form of a set after Forte: the better of its own normal order and that of its inversion. */
export function primeFormOf(set: PitchClassSet): readonly number[] {
  return [normalOrderOf(set), normalOrderOf(invertedSet(set))].sort(compareAsForte)[0] ?? [];
}

/**
 * Forte's name of five notes: 5-35; where the class and its inversion differ by more than transposition, A for the
 * prime form and B for its inversion: 5-32A.
 * @throws RangeError where the set has not five notes.
 */
export function forteNameOf(set: PitchClassSet): string {
  if (sizeOf(set) !== 5) throw new RangeError(`set must have five notes, not ${sizeOf(set)}`);
  const primeForm = primeFormOf(set).join(' ');
  const { name } = pentachordOfPrimeForm.get(primeForm) as Pentachord;
  const own = normalOrderOf(set).join(' ');
  if (own === normalOrderOf(invertedSet(set)).join(' ')) return name;
  return name + (own === primeForm ? 'A' : 'B');
}
