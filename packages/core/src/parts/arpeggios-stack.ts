import type { ChordScale } from '../analysis/index.ts';
import { familyIn, type Family, type Finger, type Position, type Shape } from '../hand/index.ts';
import {
  alterationOf,
  degreeAbove,
  degreeOnStep,
  guideTonesOf,
  modulo,
  noteAbove,
  pitchClassOf,
  semitonesOf,
  setOfNotes,
  stepOf,
  type Chord,
  type NoteName,
} from '../theory/index.ts';

/** A chord in thirds: 1 3 5 7 9 11 13. */
export interface Stack {
  readonly root: NoteName;
  /** Whether it stands on the chord's own root; an outside scale may stack the chord on another of its notes. */
  readonly onChordRoot: boolean;
  /** Seven notes, a third apart, as the chord-scale spells them. */
  readonly notes: readonly NoteName[];
}

/** Four fingers of a position, holding four neighbouring notes of a stack. */
export interface StackGrip {
  readonly position: Position;
  readonly fingers: readonly [Finger, Finger, Finger, Finger];
  /** Index in the stack of the note under the first of the fingers; below 0 it lies under the root, 0 is the root, 6 the 13th. */
  readonly from: number;
}

/** A stack played out of a family: which positions, in which order, with which four fingers. */
export interface StackedChord {
  readonly stack: Stack;
  readonly fingers: StackGrip['fingers'];
  /** In the order they are taken, upwards. Together they hold the stack from the root to `top`. */
  readonly grips: readonly StackGrip[];
  /** Index in the stack of the highest note reached: 6 where the chord is whole to its 13th, less where none exists. */
  readonly top: number;
}

/** Letter distances of 1 3 5 7 9 11 13. */
const STEPS_IN_THIRDS = [0, 2, 4, 6, 1, 3, 5] as const;
const THIRTEENTH = 6;
const SEVENTH = 3;

/** The four fingers tried, in the order in which a player would try them: 1-2-4-5 first. */
const FOUR_FINGERS: readonly StackGrip['fingers'][] = [
  [1, 2, 4, 5],
  [1, 2, 3, 5],
  [1, 3, 4, 5],
  [1, 2, 3, 4],
  [2, 3, 4, 5],
];

/** The chord-scale's note on a letter distance above the chord's root: the chord's own, else natural, flat, sharp. */
function noteOnStep(chord: Chord, chordScale: ChordScale, step: number): NoteName | undefined {
  const own = degreeOnStep(chord, step);
  const semitonesAbove = (note: NoteName): number => semitonesOf(degreeAbove(chord.root, note));
  if (own !== undefined) return chordScale.notes.find((note) => semitonesAbove(note) === semitonesOf(own));
  const rank = (note: NoteName): number => [0, -1, 1].indexOf(alterationOf(degreeAbove(chord.root, note)));
  const [first] = chordScale.notes
    .filter((note) => stepOf(degreeAbove(chord.root, note)) === step && rank(note) >= 0)
    .sort((a, b) => rank(a) - rank(b));
  return first;
}

function stackOnRoot(chord: Chord, chordScale: ChordScale): Stack | undefined {
  const notes = STEPS_IN_THIRDS.map((step) => noteOnStep(chord, chordScale, step));
  if (!notes.every((each) => each !== undefined)) return undefined;
  return new Set(notes.map(pitchClassOf)).size === 7
    ? { root: notes[0] as NoteName, onChordRoot: true, notes }
    : undefined;
}

/**
 * The stacks of a chord in its chord-scale, best first: on the chord's own root where the scale holds its third, fifth and
 * seventh there; then, in a scale of seven notes, on other notes whose first four notes hold the chord's guide tones (over
 * an altered dominant the chord a tritone away). Common practice.
 * @returns none where the scale has no such stack.
 */
export function stacksOf(chord: Chord, chordScale: ChordScale): Stack[] {
  const onRoot = stackOnRoot(chord, chordScale);
  const stacks = onRoot === undefined ? [] : [onRoot];
  const { notes } = chordScale;
  if (notes.length !== 7) return stacks;
  const guideTones = setOfNotes(guideTonesOf(chord).map((each) => noteAbove(chord.root, each)));
  for (const [from, root] of notes.entries()) {
    if (pitchClassOf(root) === pitchClassOf(chord.root)) continue;
    const inThirds = STEPS_IN_THIRDS.map((step) => notes[(from + step) % 7] as NoteName);
    const firstFour = setOfNotes(inThirds.slice(0, 4));
    if ((guideTones & ~firstFour) === 0) stacks.push({ root, onChordRoot: false, notes: inThirds });
  }
  return stacks;
}

/** Where these fingers of a position hold four neighbouring notes of the stack, upwards: the first one's index, 0 … 6. */
function gripIndex(position: Position, fingers: StackGrip['fingers'], stack: Stack): number | undefined {
  const places = fingers.map((finger) => {
    const held = pitchClassOf(position.notes[finger - 1] as NoteName);
    return stack.notes.findIndex((note) => pitchClassOf(note) === held);
  });
  const [first] = places;
  if (first === undefined || places.includes(-1)) return undefined;
  return places.every((place, index) => place === (first + index) % 7) ? first : undefined;
}

/** Every way to take positions, each in one or both of the octaves in which it meets the stack, or not at all. */
function* waysToTake(grips: readonly StackGrip[], taken: readonly StackGrip[] = []): Generator<readonly StackGrip[]> {
  const [next, ...rest] = grips;
  if (next === undefined) {
    yield taken.toSorted((a, b) => a.from - b.from);
    return;
  }
  yield* waysToTake(rest, [...taken, next]);
  if (next.from > SEVENTH) {
    const lower = { ...next, from: next.from - 7 };
    yield* waysToTake(rest, [...taken, lower]);
    yield* waysToTake(rest, [...taken, lower, next]);
  }
  yield* waysToTake(rest, taken);
}

/** The highest index reached without a gap from the root; −1 where the root is missing or a position adds nothing. */
function topOf(grips: readonly StackGrip[]): number {
  let top = -1;
  for (const { from } of grips) {
    if (from > top + 1 || from + 3 <= top) return -1;
    top = from + 3;
  }
  return Math.min(top, THIRTEENTH);
}

/** A family may hold more positions than can be tried in every way; a stack never needs more. */
const MOST_POSITIONS = 7;

/** How many positions a stack takes by preference: neighbours then share two notes, and the hand knows where it comes down. */
const PREFERRED_POSITIONS = 3;

/**
 * The stack out of the family's positions: exhaustively, over the five ways to choose four fingers, the positions and their
 * order. The highest top first; then no position twice; then as many positions as help, three at most; then the fewest
 * notes below the root; then the fingers in their order.
 * @returns undefined where no four fingers give the chord even to its seventh. `top` < 6: none exists to the 13th.
 * For example fingers 1-2-4-5 of G, D, A minor pentatonic → Gm13 over G Dorian
 */
export function stackFromFamily(stack: Stack, family: Family): StackedChord | undefined {
  let best: StackedChord | undefined;
  for (const fingers of FOUR_FINGERS) {
    const grips: StackGrip[] = [];
    for (const position of family.positions) {
      const from = gripIndex(position, fingers, stack);
      if (from !== undefined) grips.push({ position, fingers, from });
    }
    for (const way of waysToTake(grips.slice(0, MOST_POSITIONS))) {
      const top = topOf(way);
      if (top < SEVENTH) continue;
      const found: StackedChord = { stack, fingers, grips: way, top };
      best = bestStack([best, found]);
    }
  }
  return best;
}

/** What makes a stack worse; the first difference decides. */
function costsOf({ top, grips }: StackedChord): readonly number[] {
  return [
    -top,
    grips.length - new Set(grips.map((each) => each.position)).size,
    Math.abs(grips.length - PREFERRED_POSITIONS),
    -(grips[0] as StackGrip).from,
  ];
}

/** The best of several ways to stack one chord, as stackFromFamily orders them; the first among equals. */
export function bestStack(all: readonly (StackedChord | undefined)[]): StackedChord | undefined {
  return all.reduce((best, each) => {
    if (each === undefined) return best;
    return best === undefined || isLess(costsOf(each), costsOf(best)) ? each : best;
  }, undefined);
}

function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (const [index, each] of a.entries()) {
    const other = b[index] as number;
    if (each !== other) return each < other;
  }
  return false;
}

/** The semitones from the stack's root to each of its notes, upwards; the eighth is the root two octaves above. */
export function semitonesInStack({ root, notes }: Stack): number[] {
  const above: number[] = [0];
  for (const note of [...notes.slice(1), root]) {
    const last = above.at(-1) as number;
    const gap = modulo(pitchClassOf(note) - pitchClassOf(root) - last, 12);
    above.push(last + (gap === 0 ? 12 : gap));
  }
  return above;
}

/**
 * Every shape that stacks a chord in thirds whole to its 13th, each with its fingers and the order of its positions: on the
 * chord's own root where its scale has such a stack, else on the other notes that hold its guide tones.
 * @returns in the order of `shapes`; empty where none exists.
 * For example over Gm7 in G Dorian the minor pentatonic alone stacks, with fingers 1-2-4-5.
 */
export function shapesThatStack(chord: Chord, chordScale: ChordScale, shapes: readonly Shape[]): StackedChord[] {
  const stacks = stacksOf(chord, chordScale);
  const onRoot = stacks.filter((each) => each.onChordRoot);
  return shapes.flatMap((shape) => {
    const family = familyIn(shape, chordScale.notes);
    const found = (onRoot.length > 0 ? onRoot : stacks)
      .map((stack) => stackFromFamily(stack, family))
      .find((each) => each?.top === THIRTEENTH);
    return found === undefined ? [] : [found];
  });
}
