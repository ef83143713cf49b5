import {
  accidentalsOf,
  letterOf,
  modulo,
  noteNameFromFifths,
  pitchClassOf,
  spellingsOf,
  type NoteName,
  type PitchClass,
} from '../theory/index.ts';
import type { Shape } from './shape.ts';

/** What a note may be at the outside: two accidentals either way. */
const LOWEST_FIFTHS = -15;
const HIGHEST_FIFTHS = 19;

/** How chains step on the line of fifths, by semitones: those in which neighbours have one spelled interval. */
const FIFTHS_OF_CHAIN: ReadonlyMap<number, number> = new Map([
  [7, 1],
  [2, 2],
]);

/** The letters upwards; the place of a letter on this list and that on the line of fifths differ by a factor of four. */
const LETTERS = 'CDEFGAB';

/**
 * How the chord-scale would be written as a plain scale, each letter once: altered, spelled by function as
 * 1 ♭9 ♯9 3 ♯11 ♭13 ♭7, is 1 ♭2 ♭3 ♭4 ♭5 ♭6 ♭7. A set that has not seven notes, or has each letter once, is its own parent.
 * @param notes from the root up, spelled.
 */
export function parentSpelling(notes: readonly NoteName[]): readonly NoteName[] {
  const root = notes[0];
  if (root === undefined || notes.length !== 7 || new Set(notes.map(letterOf)).size === 7) return notes;
  const above = (note: NoteName): number => modulo(pitchClassOf(note) - pitchClassOf(root), 12);
  const ascending = [...notes].sort((a, b) => above(a) - above(b));
  const rootLetter = LETTERS.indexOf(letterOf(root));
  const respelled = ascending.map((note, step) =>
    spellingsOf(pitchClassOf(note), 2).find((each) => letterOf(each) === LETTERS[(rootLetter + step) % 7]),
  );
  return respelled.every((each) => each !== undefined) ? respelled : notes;
}

/** What a spelled thumb costs; compared place by place. Infinite where a note would need more than two accidentals. */
function spellingCosts(
  shape: Shape,
  thumb: number,
  notes: readonly NoteName[],
  parent: readonly NoteName[],
): readonly number[] {
  const position = shape.degrees.map((each) => thumb + each) as NoteName[];
  if (position.some((each) => each < LOWEST_FIFTHS || each > HIGHEST_FIFTHS)) return [Number.POSITIVE_INFINITY];
  return [
    position.filter((each) => Math.abs(accidentalsOf(each)) > 1).length,
    position.filter((each) => !parent.includes(each)).length,
    notes.includes(thumb as NoteName) ? 0 : 1,
    position.reduce((sum, each) => sum + Math.abs(accidentalsOf(each)), 0),
    Math.abs(thumb - (notes[0] ?? 0)),
  ];
}

/**
 * How the thumbs of a family inside a chord-scale are spelled, so that the positions read as a musician would write them:
 * of the enharmonic spellings those with the fewest double accidentals in the positions, then the most notes as in the
 * parent spelling, then thumbs as in the chord-scale, then the fewest accidentals, then the accidentals of the root's side.
 * A chain of fifths or whole steps is spelled as one: B C♯ and not B D♭. Common practice.
 * @param thumbs in the order of the family
 * @param chainSemitones semitones between neighbours, null where they form no chain
 * @param notes the chord-scale from its root up, spelled.
 * @param parent its parent spelling, `parentSpelling(notes)`.
 */
export function spellThumbs(
  shape: Shape,
  thumbs: readonly PitchClass[],
  chainSemitones: number | null,
  notes: readonly NoteName[],
  parent: readonly NoteName[],
): NoteName[] {
  const step = FIFTHS_OF_CHAIN.get(chainSemitones ?? 0);
  const runs = step === undefined ? thumbs.map((each) => [each]) : [thumbs];
  return runs.flatMap((run) => {
    const [first] = run;
    if (first === undefined) return [];
    let best: { names: number[]; costs: readonly number[] } | undefined;
    for (const candidate of spellingsOf(first, 2)) {
      const names = run.map((_, index) => candidate + index * (step ?? 0));
      const costs = names
        .map((name) => spellingCosts(shape, name, notes, parent))
        .reduce((sum, each) => each.map((cost, index) => cost + (sum[index] ?? 0)));
      if (best === undefined || isLess(costs, best.costs)) best = { names, costs };
    }
    if (best === undefined || best.costs[0] === Number.POSITIVE_INFINITY) {
      throw new RangeError(`shape must be writable on some spelling of pitch class ${first}`);
    }
    return best.names.map(noteNameFromFifths);
  });
}

/** Compares lists of costs, the first difference decides. */
function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (const [index, each] of a.entries()) {
    const other = b[index] as number;
    if (each !== other) return each < other;
  }
  return false;
}
