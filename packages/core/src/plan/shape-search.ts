import type { ChordScale } from '../analysis/index.ts';
import {
  coverOf,
  familyIn,
  positionMasks,
  SHAPE_CLASSES,
  type Family,
  type HandSize,
  type Shape,
  type ShapeClass,
} from '../hand/index.ts';
import type { PitchClassSet } from '../theory/index.ts';
import { coversOfSize } from './class-cover.ts';
import { coveringWays, fewestPlaces, type WaysToMeet } from './fewest-positions.ts';
import { familyMove } from './family-move.ts';
import { handFit, type HandFit } from './hand-fit.ts';
import type { ShapeDemand } from './shape-demand.ts';
import {
  CLASSES_BY_NAME,
  compareKindness,
  kindestRotation,
  leapsOf,
  thumbsHolding,
  type Kindness,
} from './shape-order.ts';

export interface ShapeSearchOptions {
  readonly hand: HandSize;
  /** `all`: one rotation for all twelve keys, ties summed over them. `this`: the best for the key as it stands. */
  readonly keys: 'all' | 'this';
  /** How many answers are wanted. */
  readonly limit: number;
}

/** A class an answer uses, and which of its notes the thumb takes. */
export interface AnsweredShape {
  readonly shapeClass: ShapeClass;
  readonly shape: Shape;
}

export interface AnsweredChord {
  readonly slotIndex: number;
  readonly chordScale: ChordScale;
  /** Index in the answer's shapes; null where no shape serves the chord. */
  readonly shapeIndex: number | null;
  /** All positions of the shape in the chord-scale, by its chain; null where no shape serves. */
  readonly family: Family | null;
  /** Thumbs of the positions that hold both guide tones, as a mask of pitch classes: how the chord is served. */
  readonly guideToneThumbs: PitchClassSet;
  /** Whether the family covers the chord-scale; where not, it serves. */
  readonly complete: boolean;
}

/** One way to meet every chord. */
export interface ShapeAnswer {
  readonly shapes: readonly AnsweredShape[];
  readonly chords: readonly AnsweredChord[];
  /** The fewest positions, over all chords, that do it. */
  readonly positions: number;
  /** Positions that stay when the chord changes, summed over the changes. */
  readonly staying: number;
  readonly kindness: Kindness;
}

/** The counts that prove an answer the smallest. */
export interface ShapeSearchCounts {
  readonly classes: number;
  /** Chord-scales that differ. */
  readonly demands: number;
  /** For each number of classes tried, smallest first: choices looked at, branches cut, covers found. */
  readonly sizes: readonly {
    readonly size: number;
    readonly nodes: number;
    readonly pruned: number;
    readonly covers: number;
  }[];
  /** Choices looked at to find the fewest positions. */
  readonly positionNodes: number;
}

export interface ShapeSearch {
  /** Best first; empty only where there is no chord at all. */
  readonly answers: readonly ShapeAnswer[];
  readonly searched: ShapeSearchCounts;
}

/** How a class meets a demand: with which chord-scale, and whether it covers it. */
interface Meeting {
  readonly chordScale: ChordScale;
  readonly complete: boolean;
}

const KEY_COUNT = 12;

/** The classes that meet a demand: those that cover; where none does, those that serve. By index in CLASSES_BY_NAME. */
function meetingsOf(demand: ShapeDemand): Map<number, Meeting> {
  const meetings = new Map<number, Meeting>();
  for (const [index, { rotations }] of CLASSES_BY_NAME.entries()) {
    const chordScale = demand.chordScales.find(({ set }) => coverOf(rotations[0], set) === set);
    if (chordScale !== undefined) meetings.set(index, { chordScale, complete: true });
  }
  const [chordScale] = demand.chordScales;
  if (meetings.size > 0 || chordScale === undefined) return meetings;
  const wanted = (demand.guideTones & chordScale.set) as PitchClassSet;
  for (const [index, { rotations }] of CLASSES_BY_NAME.entries()) {
    if (thumbsHolding(rotations[0], chordScale.set, wanted) !== 0) meetings.set(index, { chordScale, complete: false });
  }
  return meetings;
}

/** A demand as far as the search can tell it from others. */
const keyOf = (demand: ShapeDemand): string =>
  `${demand.chordScales.map((each) => each.set).join(' ')}/${demand.guideTones}`;

function sumOfKindness(all: readonly Kindness[]): Kindness {
  const sum = (part: keyof Kindness): number => all.reduce((total, each) => total + each[part], 0);
  return { outOfReach: sum('outOfReach'), nearLimit: sum('nearLimit'), blackThumbs: sum('blackThumbs') };
}

/** Everything one search knows, so that covers can be turned into answers. */
interface Inquiry {
  readonly demands: readonly ShapeDemand[];
  readonly meetings: ReadonlyMap<string, ReadonlyMap<number, Meeting>>;
  readonly options: ShapeSearchOptions;
  readonly fit: HandFit;
  readonly family: (shape: Shape, chordScale: ChordScale) => Family;
}

/** The ways to meet a demand with the classes of a cover; places are counted by the class's leading rotation. */
function waysWith(cover: readonly number[], demand: ShapeDemand, meetings: ReadonlyMap<number, Meeting>): WaysToMeet {
  return cover.flatMap((classIndex): WaysToMeet => {
    const meeting = meetings.get(classIndex);
    if (meeting === undefined) return [];
    const [lead] = (CLASSES_BY_NAME[classIndex] as ShapeClass).rotations;
    const { set } = meeting.chordScale;
    if (meeting.complete) return coveringWays(lead, classIndex, set);
    const thumbs = thumbsHolding(lead, set, (demand.guideTones & set) as PitchClassSet);
    return [...positionMasks(lead).keys()]
      .filter((thumb) => (thumbs & (1 << thumb)) !== 0)
      .map((thumb) => [classIndex * KEY_COUNT + thumb]);
  });
}

function answerOf(cover: readonly number[], inquiry: Inquiry): { answer: ShapeAnswer; nodes: number } {
  const { demands, meetings, options, fit, family } = inquiry;
  const meetingsFor = (demand: ShapeDemand): ReadonlyMap<number, Meeting> =>
    meetings.get(keyOf(demand)) as ReadonlyMap<number, Meeting>;
  const fewestWay = (classIndex: number, demand: ShapeDemand): number =>
    Math.min(...waysWith([classIndex], demand, meetingsFor(demand)).map((way) => way.length));
  const classFor = (demand: ShapeDemand): number | undefined => {
    const usable = cover.filter((each) => meetingsFor(demand).has(each));
    return usable.sort((a, b) => fewestWay(a, demand) - fewestWay(b, demand) || a - b)[0];
  };
  const used = demands.map(classFor);
  const rotations = cover.map((classIndex) => {
    const sets = demands.flatMap((demand, index) =>
      used[index] === classIndex ? [(meetingsFor(demand).get(classIndex) as Meeting).chordScale.set] : [],
    );
    return kindestRotation((CLASSES_BY_NAME[classIndex] as ShapeClass).rotations, sets, options.keys, fit);
  });
  const chords = demands.map((demand, index): AnsweredChord => {
    const classIndex = used[index];
    const [first] = demand.chordScales as readonly [ChordScale];
    const nothing = { shapeIndex: null, family: null, guideToneThumbs: 0 as PitchClassSet, complete: false };
    if (classIndex === undefined) return { slotIndex: demand.slotIndex, chordScale: first, ...nothing };
    const { chordScale, complete } = meetingsFor(demand).get(classIndex) as Meeting;
    const shapeIndex = cover.indexOf(classIndex);
    const { shape } = rotations[shapeIndex] as { shape: Shape };
    return {
      slotIndex: demand.slotIndex,
      chordScale,
      shapeIndex,
      family: family(shape, chordScale),
      guideToneThumbs: thumbsHolding(shape, chordScale.set, (demand.guideTones & chordScale.set) as PitchClassSet),
      complete,
    };
  });
  const met = demands.filter((_, index) => used[index] !== undefined);
  const { places, nodes } = fewestPlaces(met.map((demand) => waysWith(cover, demand, meetingsFor(demand))));
  const staying = chords.reduce((sum, { family: to }, index) => {
    const from = chords[index - 1]?.family;
    return from === undefined || from === null || to === null ? sum : sum + familyMove(from, to).kept.length;
  }, 0);
  return {
    answer: {
      shapes: cover.map((classIndex, index) => ({
        shapeClass: CLASSES_BY_NAME[classIndex] as ShapeClass,
        shape: (rotations[index] as { shape: Shape }).shape,
      })),
      chords,
      positions: places.length,
      staying,
      kindness: sumOfKindness(rotations.map((each) => each.kindness)),
    },
    nodes,
  };
}

/** The order of answers with equally many classes and the same sound; negative: `a` first. */
function compareAnswers(a: ShapeAnswer, b: ShapeAnswer): number {
  return a.positions - b.positions || compareKindness(a.kindness, b.kindness) || b.staying - a.staying;
}

/** Covers that sound alike, the best sound first: fewest classes with half steps, then most leaps. */
function bySound(covers: readonly (readonly number[])[]): (readonly (readonly number[])[])[] {
  const soundOf = (cover: readonly number[]): readonly [halfSteps: number, leaps: number] => {
    const classes = cover.map((each) => CLASSES_BY_NAME[each] as ShapeClass);
    return [classes.filter((each) => each.hasHalfStep).length, classes.reduce((sum, each) => sum + leapsOf(each), 0)];
  };
  const groups = new Map<string, { sound: readonly [number, number]; covers: (readonly number[])[] }>();
  for (const cover of covers) {
    const sound = soundOf(cover);
    const group = groups.get(sound.join()) ?? { sound, covers: [] };
    group.covers.push(cover);
    groups.set(sound.join(), group);
  }
  return [...groups.values()]
    .sort((a, b) => a.sound[0] - b.sound[0] || b.sound[1] - a.sound[1])
    .map((each) => each.covers);
}

/**
 * The five-note shapes that meet every chord: exactly, over all 66 classes in all rotations. A class meets a chord when its
 * family covers the chord-scale; where no class does, when a position of it holds the chord's guide tones.
 *
 * The order of the answers: fewest classes; then no half steps inside the shapes; then the most leaps; then the fewest
 * positions over all chords; then the kindest rotation (positions out of reach or near the hand's limit, black-key thumbs,
 * positions that stay when the chord changes); then the usual shapes and Forte's order. Numbers of classes are tried from
 * one up, each exhaustively: `searched` holds the counts.
 * @throws RangeError where `limit` is not a positive integer.
 * @example searchShapes(shapeDemands(analysis), { hand: 'medium', keys: 'all', limit: 3 }).answers[0]
 * // over Fm7b5 | Bb7alt | Ebm6 → the minor-six pentatonic, thumbs Ab Bb | Cb Db | Eb F
 */
export function searchShapes(demands: readonly ShapeDemand[], options: ShapeSearchOptions): ShapeSearch {
  if (!Number.isInteger(options.limit) || options.limit < 1) {
    throw new RangeError(`limit must be a positive integer, not ${options.limit}`);
  }
  const meetings = new Map<string, ReadonlyMap<number, Meeting>>();
  for (const demand of demands) if (!meetings.has(keyOf(demand))) meetings.set(keyOf(demand), meetingsOf(demand));
  const families = new Map<string, Family>();
  const family = (shape: Shape, chordScale: ChordScale): Family => {
    const key = `${shape.id}/${chordScale.notes.join(' ')}/${chordScale.kept.join(' ')}`;
    const found = families.get(key) ?? familyIn(shape, chordScale.notes, chordScale.kept);
    families.set(key, found);
    return found;
  };
  const inquiry: Inquiry = { demands, meetings, options, fit: handFit(options.hand), family };
  const rows = [...meetings.values()]
    .filter((each) => each.size > 0)
    .map((each) => [...each.keys()].reduce((mask, index) => mask | (1n << BigInt(index)), 0n));

  const sizes: { size: number; nodes: number; pruned: number; covers: number }[] = [];
  let positionNodes = 0;
  let answers: ShapeAnswer[] = [];
  const outOfReach: ShapeAnswer[] = [];
  for (let size = 1; size <= rows.length && answers.length === 0; size++) {
    const { nodes, pruned, covers } = coversOfSize(rows, size);
    sizes.push({ size, nodes, pruned, covers: covers.length });
    for (const group of bySound(covers)) {
      if (answers.length >= options.limit) break;
      const found = group.map((cover) => {
        const made = answerOf(cover, inquiry);
        positionNodes += made.nodes;
        return made.answer;
      });
      found.sort(compareAnswers);
      answers.push(...found.filter((each) => each.kindness.outOfReach === 0));
      outOfReach.push(...found.filter((each) => each.kindness.outOfReach > 0));
    }
  }
  // a hand that nothing suits still gets what there is; its answers say how many positions lie out of reach
  if (answers.length === 0) answers = outOfReach;
  return {
    answers: answers.slice(0, options.limit),
    searched: { classes: SHAPE_CLASSES.length, demands: meetings.size, sizes, positionNodes },
  };
}
