import { CHORD_KINDS_BY_SYMBOL } from './chord-kinds.ts';
import type { ChordQuality } from './chord.ts';
import { alterationOf, degree, formatDegree, stepOf, type Degree } from './degree.ts';

const SECOND = degree('2');
const MINOR_THIRD = degree('b3');
const THIRD = degree('3');
const FOURTH = degree('4');
const FLAT_FIFTH = degree('b5');
const FIFTH = degree('5');
const SHARP_FIFTH = degree('#5');
const SIXTH = degree('6');
const FLAT_THIRTEENTH = degree('b13');
const MINOR_SEVENTH = degree('b7');

/** Letter distance of the seventh above the root. */
const SEVENTH_STEP = 6;

const hasSeventhIn = (degrees: readonly Degree[]): boolean => degrees.some((each) => stepOf(each) === SEVENTH_STEP);
const hasThirdIn = (degrees: readonly Degree[]): boolean => degrees.includes(THIRD) || degrees.includes(MINOR_THIRD);

/** The degree in the third's place: the fourth before the second; undefined where a third is there, or nothing. */
export function suspensionOf(degrees: readonly Degree[]): Degree | undefined {
  if (hasThirdIn(degrees)) return undefined;
  return [FOURTH, SECOND].find((each) => degrees.includes(each));
}

/** Place of a letter distance in a stack of thirds: 1, third, fifth, seventh, 9th, 11th, 13th. */
const STACK_PLACE_OF_STEP: readonly number[] = [0, 4, 1, 5, 2, 6, 3];

/** Degrees as a chord stacks them, each once: root, third (or what stands for it), fifth, sixth or seventh, tensions. */
export function stacked(degrees: Iterable<Degree>): Degree[] {
  const all = [...new Set(degrees)];
  const suspension = suspensionOf(all);
  const placeOf = (each: Degree): number => {
    if (each === suspension) return 1;
    if (each === SIXTH && !hasSeventhIn(all)) return 3;
    return STACK_PLACE_OF_STEP[stepOf(each)] as number;
  };
  return all.sort((a, b) => placeOf(a) - placeOf(b) || alterationOf(a) - alterationOf(b));
}

/** What a chord of these degrees is at heart. Common practice, see ChordQuality. */
export function qualityOf(degrees: readonly Degree[]): ChordQuality {
  const has = (each: Degree): boolean => degrees.includes(each);
  if (suspensionOf(degrees) !== undefined) return 'suspended';
  if (has(MINOR_THIRD)) {
    if (!has(FLAT_FIFTH)) return 'minor';
    return has(MINOR_SEVENTH) ? 'half-diminished' : 'diminished';
  }
  if (has(MINOR_SEVENTH)) return 'dominant';
  if (has(THIRD)) return has(SHARP_FIFTH) ? 'augmented' : 'major';
  return degrees.every((each) => each === degree('1') || each === FIFTH) ? 'power' : 'major';
}

/** A note taken out is a rarer thing to write than a note put in. */
const COST_OF_EXTRA = 2;
const COST_OF_OMISSION = 5;
/** A third or a seventh is what a kind is named after: it is never added to another kind. */
const COST_OF_FOREIGN = 100;

/** Whether the fifth gives way: in a seventh chord with a b13 (common practice), so that a missing one needs no word. */
export function fifthGivesWay(degrees: readonly Degree[]): boolean {
  return degrees.includes(FLAT_THIRTEENTH) && hasSeventhIn(degrees);
}

const degreesKey = (degrees: readonly Degree[]): string => degrees.toSorted((a, b) => a - b).join(' ');

/** Kinds that need no addition, by their degrees. */
const SUFFIX_OF_KIND: ReadonlyMap<string, string> = new Map(
  CHORD_KINDS_BY_SYMBOL.map((kind) => [degreesKey(kind.degrees), kind.suffix]),
);

/** Order in which additions stand in the parentheses: altered fifths, then 9, 11, 13. */
const PLACE_IN_LIST: readonly number[] = [0, 2, 0, 3, 1, 4, 0];

/** `b5`, `#11`, `9`: the number a musician gives an added degree. */
function numberText(value: Degree): string {
  return formatDegree(value, 'extension');
}

/**
 * The canonical suffix of a chord with these degrees: the kind of the table that leaves least to say, then what is
 * added or altered, then what is omitted. The same degrees always give the same suffix.
 * @example canonicalSuffix(degrees('1 3 5 b7 b9 13')) // → '7(b9,13)'
 */
export function canonicalSuffix(degrees: readonly Degree[]): string {
  const exact = SUFFIX_OF_KIND.get(degreesKey(degrees));
  if (exact !== undefined) return exact;
  let best = '';
  let bestCost = Infinity;
  for (const kind of CHORD_KINDS_BY_SYMBOL) {
    const extra = degrees.filter((each) => !kind.degrees.includes(each));
    const missing = kind.degrees.filter((each) => !degrees.includes(each));
    const replacedFifth = missing.includes(FIFTH) && extra.some((each) => stepOf(each) === stepOf(FIFTH));
    const omitted = missing.filter((each) => !(each === FIFTH && (replacedFifth || fifthGivesWay(degrees))));
    const foreign = extra.filter((each) => stepOf(each) === SEVENTH_STEP || stepOf(each) === stepOf(THIRD));
    const cost = foreign.length * COST_OF_FOREIGN + extra.length * COST_OF_EXTRA + omitted.length * COST_OF_OMISSION;
    if (cost >= bestCost) continue;
    bestCost = cost;
    const isTriad = !hasSeventhIn(kind.degrees) && !kind.degrees.includes(SIXTH);
    const ordered = extra.toSorted(
      (a, b) =>
        (PLACE_IN_LIST[stepOf(a)] as number) - (PLACE_IN_LIST[stepOf(b)] as number) ||
        alterationOf(a) - alterationOf(b),
    );
    const words = ordered.map((each) => {
      // a bare 9 would be a ninth chord
      if (isTriad)
        return (alterationOf(each) === 0 ? 'add' : '') + (each === FLAT_THIRTEENTH ? 'b6' : numberText(each));
      return numberText(each);
    });
    words.push(...omitted.map((each) => `omit${stepOf(each) % 2 === 1 ? numberText(each) : stepOf(each) + 1}`));
    best = kind.suffix + (words.length === 0 ? '' : `(${words.join(',')})`);
  }
  return best;
}
