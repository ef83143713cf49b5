import { degreeInScale, type ChordScale } from '../analysis/index.ts';
import type { Family, Finger, Position } from '../hand/index.ts';
import {
  alterationOf,
  CHORD_KINDS_BY_SYMBOL,
  degreeAbove,
  degreeOnStep,
  formatNoteName,
  guideTonesOf,
  modulo,
  noteAbove,
  pitchClassOf,
  semitonesOf,
  setOfNotes,
  stepOf,
  type Chord,
  type Degree,
  type NoteName,
} from '../theory/index.ts';

/** A chord in thirds: 1 3 5 7 9 11 13. */
export interface Stack {
  readonly root: NoteName;
  /** Whether it stands on the chord's own root; an outside scale may stack the chord on another of its notes. */
  readonly onChordRoot: boolean;
  /** Seven notes, a third apart, as the chord-scale spells them; fewer where it does not go so far. */
  readonly notes: readonly NoteName[];
}

/** One position of the hand and the neighbouring notes of a stack it plays, upwards. */
export interface StackRun {
  readonly position: Position;
  /** Semitones from the stack's root to the thumb's key. */
  readonly thumbSemitones: number;
  /** Index in the stack of its first note: 0 is the root, 6 the 13th. */
  readonly from: number;
  /** A finger for each note from there on. */
  readonly fingers: readonly Finger[];
}

/** A stack played out of positions: what the hand plays before it moves, run by run, upwards. */
export interface StackedChord {
  readonly stack: Stack;
  readonly runs: readonly StackRun[];
  /** Index in the stack of the highest note reached: 6 where the chord is whole to its 13th, 7 with the root above it. */
  readonly top: number;
}

/** Letter distances of 1 3 5 7 9 11 13. */
const STEPS_IN_THIRDS = [0, 2, 4, 6, 1, 3, 5] as const;
export const THIRTEENTH = 6;
const SEVENTH = 3;

/** The chord-scale's note on a letter distance above the chord's root: the chord's own, else natural, flat, sharp. */
function noteOnStep(chord: Chord, chordScale: ChordScale, step: number): NoteName | undefined {
  const own = degreeOnStep(chord, step);
  const degreeOf = (note: NoteName): Degree => degreeInScale(chord, chordScale, note);
  const semitonesAbove = (note: NoteName): number => semitonesOf(degreeAbove(chord.root, note));
  if (own !== undefined) return chordScale.notes.find((note) => semitonesAbove(note) === semitonesOf(own));
  const rank = (note: NoteName): number => [0, -1, 1].indexOf(alterationOf(degreeOf(note)));
  const [first] = chordScale.notes
    .filter((note) => stepOf(degreeOf(note)) === step && rank(note) >= 0)
    .sort((a, b) => rank(a) - rank(b));
  return first;
}

/** The letter distance that stands for the third: a suspended chord's own fourth or second. */
function stepOfThird(chord: Chord): number {
  if (degreeOnStep(chord, 2) !== undefined) return 2;
  return [3, 1].find((step) => chord.quality === 'suspended' && degreeOnStep(chord, step) !== undefined) ?? 2;
}

function stackOnRoot(chord: Chord, chordScale: ChordScale): Stack | undefined {
  const third = stepOfThird(chord);
  const steps = STEPS_IN_THIRDS.map((step, index) => (index === 1 ? third : step));
  const notes = steps.map((step) => noteOnStep(chord, chordScale, step));
  if (!notes.every((each) => each !== undefined)) return undefined;
  // a suspended chord's fourth comes back as its 11, an octave up
  return new Set(notes.map(pitchClassOf)).size === new Set(steps).size
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

/** The chord's stack on its root up to where its scale goes on in thirds: 1 3 ♯5 ♭7 9 ♯11 in the whole-tone scale, which has no 13. */
export function stackAsFarAsItGoes(chord: Chord, chordScale: ChordScale): Stack | undefined {
  const named = STEPS_IN_THIRDS.map((step, index) =>
    noteOnStep(chord, chordScale, index === 1 ? stepOfThird(chord) : step),
  );
  const missing = named.indexOf(undefined);
  const notes = named.slice(0, missing < 0 ? named.length : missing) as NoteName[];
  return notes.length > SEVENTH ? { root: notes[0] as NoteName, onChordRoot: true, notes } : undefined;
}

/** The stack of a scale of seven notes on its own root, whatever the chord; undefined for scales without seven. */
export function stackOnScaleRoot({ notes }: ChordScale): Stack | undefined {
  const [root] = notes;
  if (root === undefined || notes.length !== 7) return undefined;
  return { root, onChordRoot: false, notes: STEPS_IN_THIRDS.map((step) => notes[step] as NoteName) };
}

/** The chord that a stack's first four notes are: 'Ab7'; null where no kind of seventh chord has them. */
export function seventhChordOf({ root, notes }: Stack): string | null {
  const four = setOfNotes(notes.slice(0, 4));
  const found = CHORD_KINDS_BY_SYMBOL.find(
    ({ degrees }) => degrees.length === 4 && setOfNotes(degrees.map((each) => noteAbove(root, each))) === four,
  );
  return found === undefined ? null : formatNoteName(root) + found.suffix;
}

/** Whether a stack's first four notes hold the third and seventh of a chord. */
export function holdsGuideTones({ notes }: Stack, chord: Chord): boolean {
  const guideTones = setOfNotes(guideTonesOf(chord).map((each) => noteAbove(chord.root, each)));
  return guideTones !== 0 && (guideTones & ~setOfNotes(notes.slice(0, 4))) === 0;
}

/** What makes a way up worse, each worth more than all that follow it together. */
const RUN_COST = { move: 1000, otherShape: 100, secondFinger: 10, rootAbove: -1 } as const;

/** Every run of two notes and more that a position can play of a stack, begun with the thumb or the second finger. */
function runsOf(position: Position, stack: Stack, semitones: readonly number[]): StackRun[] {
  const { steps } = position.shape;
  const thumbAboveRoot = pitchClassOf(position.thumb) - pitchClassOf(stack.root);
  const runs: StackRun[] = [];
  for (const [from, above] of semitones.entries()) {
    // no higher finger can follow a fifth upwards
    for (const first of [1, 2] as const) {
      const thumbSemitones = above - (steps[first - 1] as number);
      if (modulo(thumbSemitones - thumbAboveRoot, 12) !== 0) continue;
      const fingers: Finger[] = [];
      for (const note of semitones.slice(from)) {
        const place = steps.findIndex((step) => thumbSemitones + step === note);
        if (place < 0) break;
        fingers.push((place + 1) as Finger);
        if (fingers.length >= 2) runs.push({ position, thumbSemitones, from, fingers: [...fingers] });
      }
    }
  }
  return runs;
}

const endOf = ({ from, fingers }: StackRun): number => from + fingers.length - 1;

/**
 * The best way up a stack out of some families: the highest top first; then the fewest moves of the hand; then positions of
 * the first family's shape; then the thumb rather than the second finger on the first note after a move; then as far as the
 * root above the 13th. The hand moves upwards only, and plays two notes and more before it moves again.
 * @param families the chord's own first.
 * @returns undefined where the chord cannot be played even to its seventh.
 * For example out of G, D and A minor pentatonic Gm13: G B♭ D F with 1-2-4-5 of G, A C E G with 1-2-4-5 of A
 */
export function stackFromFamilies(stack: Stack, families: readonly Family[]): StackedChord | undefined {
  const semitones = semitonesInStack(stack);
  const ownShape = families[0]?.shape;
  interface Way {
    readonly runs: readonly StackRun[];
    readonly cost: number;
  }
  const costOf = ({ position, fingers }: StackRun): number =>
    RUN_COST.move +
    (position.shape === ownShape ? 0 : RUN_COST.otherShape) +
    (fingers[0] === 1 ? 0 : RUN_COST.secondFinger);
  const runs = families
    .flatMap((family) => family.positions.flatMap((position) => runsOf(position, stack, semitones)))
    .toSorted((a, b) => a.from - b.from);
  const waysTo = new Map<number, Way[]>();
  const top = (way: Way): number => endOf(way.runs.at(-1) as StackRun);
  const value = (way: Way): number => way.cost + (top(way) > THIRTEENTH ? RUN_COST.rootAbove : 0);
  let best: Way | undefined;
  for (const run of runs) {
    const before = (waysTo.get(run.from - 1) ?? []).filter(
      (way) => (way.runs.at(-1) as StackRun).thumbSemitones < run.thumbSemitones,
    );
    const cheapest = before.reduce<Way | undefined>(
      (least, way) => (least === undefined || way.cost < least.cost ? way : least),
      undefined,
    );
    if (run.from > 0 && cheapest === undefined) continue;
    const way: Way = { runs: [...(cheapest?.runs ?? []), run], cost: (cheapest?.cost ?? 0) + costOf(run) };
    waysTo.set(top(way), [...(waysTo.get(top(way)) ?? []), way]);
    const [reached, bestReached] = [way, best].map((each) =>
      each === undefined ? -1 : Math.min(top(each), THIRTEENTH),
    ) as [number, number];
    if (reached < SEVENTH) continue;
    if (reached > bestReached || (reached === bestReached && best !== undefined && value(way) < value(best)))
      best = way;
  }
  return best === undefined ? undefined : { stack, runs: best.runs, top: top(best) };
}

/** The run that plays a note of the stack, and its finger; undefined above the top. */
export function fingerInStack(
  { runs }: StackedChord,
  index: number,
): { readonly position: Position; readonly finger: Finger } | undefined {
  const run = runs.find((each) => each.from <= index && index <= endOf(each));
  return run === undefined ? undefined : { position: run.position, finger: run.fingers[index - run.from] as Finger };
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
