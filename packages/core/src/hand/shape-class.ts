import type { Result } from '../issue/index.ts';
import {
  alterationOf,
  degrees,
  formatDegree,
  formatNoteName,
  modulo,
  pitchClassOf,
  stepOf,
  transposeSet,
  type Degree,
  type NoteName,
  type PitchClassSet,
} from '../theory/index.ts';
import { maskOf } from './family.ts';
import { forteNameOf, invertedSet, normalOrderOf, PENTACHORDS, setOfSteps } from './pentachord.ts';
import { NAMED_SHAPES } from './shapes.ts';
import type { Shape } from './shape.ts';

/** The transposition class of five notes, with the five shapes it makes: whichever of its notes the thumb takes. */
export interface ShapeClass {
  /** Forte's name, A or B where the inversion is another class: `5-35`, `5-32A`. */
  readonly forte: string;
  /** The trade's name of the shape that leads it, else Forte's. */
  readonly name: string;
  /** The class at C: the first shape's notes with its thumb on C. */
  readonly set: PitchClassSet;
  /** All five, each with another note of the class under the thumb; the first leads, the others ascend from it. */
  readonly rotations: readonly [Shape, Shape, Shape, Shape, Shape];
  /** Semitones of the class above the first rotation's thumb: where each rotation's thumb is. */
  readonly steps: Shape['steps'];
  /** Whether two of its notes lie a half step apart; without any the sound is open. */
  readonly hasHalfStep: boolean;
}

/** How each number of semitones above a thumb may be written, the usual way first. Common practice. */
const SPELLINGS: readonly (readonly Degree[])[] = [
  degrees('1'),
  degrees('b2 #1'),
  degrees('2'),
  degrees('b3 #2'),
  degrees('3 b4'),
  degrees('4'),
  degrees('b5 #4'),
  degrees('5'),
  degrees('b6 #5'),
  degrees('6 bb7'),
  degrees('b7 #6'),
  degrees('7'),
];

/** Letters used twice weigh more than all accidentals together. */
function spellingCost(way: readonly Degree[]): number {
  const lettersTwice = way.length - new Set(way.map(stepOf)).size;
  return 100 * lettersTwice + way.reduce((sum, each) => sum + Math.abs(alterationOf(each)), 0);
}

/** Spells steps above the thumb: no letter twice where that can be, then the fewest accidentals, then the usual way. */
function spellSteps(steps: readonly number[]): Degree[] {
  let ways: Degree[][] = [[]];
  for (const step of steps) ways = ways.flatMap((way) => (SPELLINGS[step] ?? []).map((each) => [...way, each]));
  // the sort keeps the order of equals, so the usual way stays first
  return ways.sort((a, b) => spellingCost(a) - spellingCost(b))[0] ?? [];
}

const namedBySteps = new Map(NAMED_SHAPES.map((shape) => [shape.steps.join('-'), shape]));

/** The shape that begins on the nth note of the lead, named after it where it has no name of its own. */
function rotate(lead: Shape, thumb: number, isNamed: boolean): Shape {
  const from = lead.steps[thumb] as number;
  const order = lead.degrees.map((_, index) => (thumb + index) % 5);
  const steps = order.map((each) => modulo((lead.steps[each] as number) - from, 12)) as unknown as Shape['steps'];
  const id = steps.join('-');
  const own = namedBySteps.get(id);
  if (own !== undefined) return own;
  const above = order.map((each) => ((lead.degrees[each] as Degree) - (lead.degrees[thumb] as Degree)) as Degree);
  const isPlain = isNamed && above.every((each) => Math.abs(each) <= 6);
  const place = isNamed ? formatDegree(lead.degrees[thumb] as Degree) : `${ORDINALS[thumb]} note`;
  return {
    id,
    name: thumb === 0 ? lead.name : `${lead.name}, thumb on the ${place}`,
    steps,
    degrees: (isPlain ? above : spellSteps(steps)) as unknown as Shape['degrees'],
  };
}

const ORDINALS = ['1st', '2nd', '3rd', '4th', '5th'] as const;

function shapeClass(set: PitchClassSet): ShapeClass {
  const forte = forteNameOf(set);
  const normalOrder = normalOrderOf(set);
  const named = NAMED_SHAPES.find((shape) => normalOrderOf(maskOf(shape)).join('-') === normalOrder.join('-'));
  const lead: Shape = named ?? {
    id: normalOrder.join('-'),
    name: forte,
    steps: normalOrder as unknown as Shape['steps'],
    degrees: spellSteps(normalOrder) as unknown as Shape['degrees'],
  };
  const mask = maskOf(lead);
  return {
    forte,
    name: lead.name,
    set: mask,
    rotations: [0, 1, 2, 3, 4].map((thumb) =>
      rotate(lead, thumb, named !== undefined),
    ) as unknown as ShapeClass['rotations'],
    steps: lead.steps,
    hasHalfStep: (mask & transposeSet(mask, 1)) !== 0,
  };
}

/** All 66 transposition classes of five notes, in Forte's order, A before B. */
export const SHAPE_CLASSES: readonly ShapeClass[] = PENTACHORDS.flatMap(({ primeForm }) => {
  const set = setOfSteps(primeForm);
  const upsideDown = invertedSet(set);
  const isOne = normalOrderOf(set).join() === normalOrderOf(upsideDown).join();
  return isOne ? [shapeClass(set)] : [shapeClass(set), shapeClass(upsideDown)];
});

/** All 330 shapes inside the octave, class by class. */
export const ALL_SHAPES: readonly Shape[] = SHAPE_CLASSES.flatMap((each) => each.rotations);

const shapesById = new Map(ALL_SHAPES.map((shape) => [shape.id, shape]));
const shapesBySteps = new Map(ALL_SHAPES.map((shape) => [shape.steps.join('-'), shape]));
const classesById = new Map(SHAPE_CLASSES.flatMap((each) => each.rotations.map((shape) => [shape.id, each])));

/** The shape with this identifier, or with these steps (`0-3-5-7-10`); undefined where there is none. */
export function findShape(id: string): Shape | undefined {
  return shapesById.get(id) ?? shapesBySteps.get(id);
}

/**
 * The class a shape belongs to.
 * @throws RangeError where it is none of ALL_SHAPES.
 */
export function classOfShape(shape: Shape): ShapeClass {
  const found = classesById.get(shape.id);
  if (found === undefined) throw new RangeError(`shape must be one of ALL_SHAPES, not '${shape.id}'`);
  return found;
}

/**
 * A player's own shape: five notes, the thumb's first, the others above it within the octave in any order.
 * @returns the shape, spelled as the product spells it, or what is wrong with the notes.
 * @example shapeFromNotes(['C', 'E', 'G', 'Bb', 'D'].map(noteName)) // → the dominant pentatonic
 */
export function shapeFromNotes(notes: readonly NoteName[]): Result<Shape> {
  const given = notes.map(formatNoteName).join(' ');
  const [thumb] = notes;
  if (thumb === undefined || notes.length !== 5) {
    return {
      ok: false,
      issues: [{ code: 'shape.not-five-notes', args: { notes: given, count: notes.length }, place: {} }],
    };
  }
  const steps = notes.map((note) => modulo(pitchClassOf(note) - pitchClassOf(thumb), 12)).sort((a, b) => a - b);
  const twice = notes.find(
    (note, index) => notes.findIndex((each) => pitchClassOf(each) === pitchClassOf(note)) < index,
  );
  if (twice !== undefined) {
    return {
      ok: false,
      issues: [{ code: 'shape.note-twice', args: { notes: given, note: formatNoteName(twice) }, place: {} }],
    };
  }
  return { ok: true, value: shapesBySteps.get(steps.join('-')) as Shape, warnings: [] };
}

/** How many semitones a shape reaches from thumb to little finger. */
export function widthOf(shape: Shape): number {
  return shape.steps[4];
}
