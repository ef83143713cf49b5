import { accidentalsOf, letterOf, pitchClassOf, simpleName, spellingsOf, type NoteName } from '../theory/index.ts';
import type { PitchClass } from '../theory/index.ts';
import type { Shape } from './shape.ts';

const nameOfSound = (names: readonly NoteName[], sound: PitchClass): NoteName | undefined =>
  names.find((each) => pitchClassOf(each) === sound);

const accidentals = (names: readonly NoteName[]): number =>
  names.reduce((sum, each) => sum + Math.abs(accidentalsOf(each)), 0);

const lettersTwice = (names: readonly NoteName[]): number => names.length - new Set(names.map(letterOf)).size;

/** Shapes without a trade name are called by their set class, `5-Z12`, or by their steps. */
const hasTradeName = ({ name }: Shape): boolean => !/^\d/u.test(name);

/** The thumbs a position may be written on: the name kept over the chord, the scale's own, else any with one accidental. */
function thumbNames(thumb: PitchClass, notes: readonly NoteName[], kept: readonly NoteName[]): readonly NoteName[] {
  const own = nameOfSound(kept, thumb) ?? nameOfSound(notes, thumb);
  return own === undefined ? spellingsOf(thumb, 1) : [kept.includes(own) ? own : simpleName(own)];
}

/**
 * How a position over a chord is spelled, thumb first: what is kept over the chord keeps its name; the thumb has the scale's;
 * the others follow the thumb by the shape's degrees, without a double accidental: over D7alt E♭ F♯ A♭ B♭ C. A shape without
 * a name of its own, and one that would have a letter twice so, follows the scale where that reads better.
 * Rules (a), (b) and (d) of docs/spelling.md.
 * @param notes the chord-scale from its root up, spelled.
 * @param kept names kept over the chord (`ChordScale.kept`); none where there is no chord.
 */
export function spellPosition(
  shape: Shape,
  thumb: PitchClass,
  notes: readonly NoteName[],
  kept: readonly NoteName[],
): NoteName[] {
  let best: { readonly names: NoteName[]; readonly costs: readonly number[] } | undefined;
  for (const thumbName of thumbNames(thumb, notes, kept)) {
    const byThumb = shape.degrees.map((each) => {
      const exact = (thumbName + each) as NoteName;
      const note = notes.includes(exact) ? exact : simpleName(exact);
      return each === 0 ? thumbName : (nameOfSound(kept, pitchClassOf(note)) ?? note);
    });
    const byScale = byThumb.map((note, finger) => {
      const sound = pitchClassOf(note);
      return finger === 0 ? note : (nameOfSound(kept, sound) ?? nameOfSound(notes, sound) ?? note);
    });
    for (const [way, names] of [byThumb, byScale].entries()) {
      const costs = [lettersTwice(names), hasTradeName(shape) ? way : 1 - way, accidentals(names)];
      if (best === undefined || isLess(costs, best.costs)) best = { names, costs };
    }
  }
  if (best === undefined) throw new RangeError(`thumb must be a pitch class, not ${thumb}`);
  return best.names;
}

/** Compares lists of costs, the first difference decides. */
function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (const [index, each] of a.entries()) {
    const other = b[index] as number;
    if (each !== other) return each < other;
  }
  return false;
}
