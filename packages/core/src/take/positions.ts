/**
 * Which position the right hand was in. For every note the likeliest of: the lesson's family here, another move of it (positions
 * of the ladder's other chord-scales), or a place that nobody allowed (the family's shape on any other thumb); changing costs, a note
 * that no position holds costs, an approach costs little. The cheapest way through all notes is found exactly (Viterbi 1967).
 */
import type { ChordScale } from '../analysis/index.ts';
import { positionMasks, type Position } from '../hand/index.ts';
import { classesOf, sizeOf, transposeSet, type PitchClass, type PitchClassSet } from '../theory/index.ts';
import { sounds, type CourseSlot } from './course.ts';
import { sureOf } from './figures.ts';
import type { PlacedNote } from './heard-line.ts';

/** Where a position comes from. */
export type PositionKind = 'family' | 'other move' | 'outside';

/** A share of a chord's notes that lay in one position. */
export interface FoundPosition {
  readonly thumb: PitchClass;
  readonly shape: string;
  /** As the lesson spells it; null where the lesson has no such position. */
  readonly position: Position | null;
  readonly kind: PositionKind;
  /** Of the chord's notes, 0 to 1. */
  readonly share: number;
}

/** Where the hand lay for one note. */
export interface FoundPlace {
  readonly thumb: PitchClass;
  /** Semitones of the five fingers above the thumb. */
  readonly steps: readonly number[];
  readonly shape: string;
  readonly position: Position | null;
  readonly kind: PositionKind;
}

/** What the right hand did over one chord. */
export interface SlotVerdict {
  readonly slot: CourseSlot;
  readonly notes: readonly PlacedNote[];
  readonly positions: readonly FoundPosition[];
  /** Where the hand lay for each of the notes; null where nothing is known. */
  readonly places: readonly (FoundPlace | null)[];
  readonly kind: PositionKind;
  /** Notes that no chord-scale of the lesson holds and that approach nothing. */
  readonly outside: readonly PlacedNote[];
  /** The rung the notes belong to, where it is another move. */
  readonly rung: CourseSlot['others'][number] | null;
  /** 0 to 1; null where there are too few notes to say. */
  readonly sure: number | null;
}

const COST = {
  /** A note that the position does not hold: by approach, inside the lesson's chord-scale, elsewhere. */
  approach: 2,
  inScale: 5,
  foreign: 8,
  /** To begin in, or change to, the route's own position, or one of each kind. */
  route: 1,
  enter: { family: 3, 'other move': 8, outside: 11 },
} as const satisfies Record<string, number | Readonly<Record<PositionKind, number>>>;

interface State extends FoundPlace {
  readonly mask: PitchClassSet;
}

const knownStates = new WeakMap<CourseSlot['planned'], readonly State[]>();

/** All that the hand may be in over a chord, the lesson's own first; no two hold the same notes. */
function statesOf({ planned, family, others }: CourseSlot): readonly State[] {
  const known = knownStates.get(planned);
  if (known !== undefined) return known;
  const states: State[] = [];
  const seen = new Set<number>();
  const add = (state: State): void => {
    if (seen.has(state.mask)) return;
    seen.add(state.mask);
    states.push(state);
  };
  const ofPosition = (position: Position, kind: PositionKind): State => ({
    mask: position.set,
    thumb: (classesOf(position.set).find((each) => positionMasks(position.shape)[each] === position.set) ??
      0) as PitchClass,
    steps: position.shape.steps,
    shape: position.shape.id,
    kind,
    position,
  });
  for (const position of family) add(ofPosition(position, 'family'));
  for (const other of others) for (const position of other.positions) add(ofPosition(position, 'other move'));
  const shape = planned.family?.shape;
  if (shape !== undefined) {
    for (const [thumb, mask] of positionMasks(shape).entries()) {
      add({ mask, thumb: thumb as PitchClass, steps: shape.steps, shape: shape.id, kind: 'outside', position: null });
    }
  }
  knownStates.set(planned, states);
  return states;
}

/** Whether a note leads by half step, by two, or round the goal, into a note of the lesson's chord-scale, shortly and not from a long beat. */
export function isApproach(notes: readonly PlacedNote[], index: number): boolean {
  const note = notes[index] as PlacedNote;
  if (note.toNextPulses > 1.3 || (note.part === 'beat' && note.toNextPulses > 0.8)) return false;
  const leadsInto = (goal: PlacedNote | undefined): goal is PlacedNote =>
    goal !== undefined && (goal.ticks - note.ticks) / 960 <= 1.6 && sounds(goal.slot.scale, goal.key);
  const [next, goal] = [notes[index + 1], notes[index + 2]];
  if (leadsInto(next) && Math.abs(next.key - note.key) === 1) return true;
  if (!leadsInto(goal) || next === undefined) return false;
  const [from, past] = [goal.key - note.key, goal.key - next.key];
  // from both sides of the goal, the strange note a half step from it, or by two half steps
  const isRound = Math.abs(from) === 1 && Math.abs(past) <= 2 && from * past < 0;
  return isRound || (Math.abs(from) === 2 && from === 2 * past);
}

const knownPlaces = new WeakMap<readonly State[], ReadonlyMap<number, number>>();

/** Where a state of the same notes and kind stands among others; −1 where there is none. */
function placeIn(states: readonly State[], { mask, kind }: State): number {
  let places = knownPlaces.get(states);
  if (places === undefined) {
    places = new Map(states.map((each, index) => [each.mask, index]));
    knownPlaces.set(states, places);
  }
  const place = places.get(mask);
  return place !== undefined && states[place]?.kind === kind ? place : -1;
}

/** The state of each note, and what it costs. */
function walk(notes: readonly PlacedNote[], approaches: readonly boolean[]): (State | null)[] {
  let costs: number[] = [];
  let before: readonly State[] = [];
  const came: Int16Array[] = [];
  for (const [index, note] of notes.entries()) {
    const states = statesOf(note.slot);
    let cheapest = 0;
    for (let at = 1; at < costs.length; at++) if ((costs[at] as number) < (costs[cheapest] as number)) cheapest = at;
    const base = costs[cheapest] ?? 0;
    const way = new Int16Array(Math.max(1, states.length)).fill(costs.length === 0 ? -1 : cheapest);
    const next = states.map((state, at) => {
      const isRoute = state.mask === note.slot.planned.position?.set;
      let cost = base + (isRoute ? COST.route : COST.enter[state.kind]);
      const same = before === states ? at : placeIn(before, state);
      if (same >= 0 && costs.length > 0 && (costs[same] as number) <= cost) {
        cost = costs[same] as number;
        way[at] = same;
      }
      if (sounds(state.mask, note.key)) return cost;
      if (approaches[index]) return cost + COST.approach;
      return cost + (sounds(note.slot.scale, note.key) ? COST.inScale : COST.foreign);
    });
    came.push(way);
    costs = next.length === 0 ? [base] : next;
    before = states;
  }
  const found: (State | null)[] = notes.map(() => null);
  let at = costs.indexOf(Math.min(...costs));
  for (let index = notes.length - 1; index >= 0; index--) {
    found[index] = statesOf((notes[index] as PlacedNote).slot)[at] ?? null;
    at = came[index]?.[at] ?? 0;
  }
  return found;
}

function classesIn(notes: readonly PlacedNote[]): PitchClassSet {
  return notes.reduce((set, { key }) => set | (1 << (key % 12)), 0) as PitchClassSet;
}

/** Fewer than this say little: one strange note among many is a slip of the finger. */
const FOREIGN_SHARE = 0.24;

/** Whether a set is the lesson's position here, moved by a half step: a side-slip. */
function isSlip(slot: CourseSlot, played: PitchClassSet): boolean {
  const own = slot.planned.position;
  if (own === null || slot.planned.chordScale?.inside === false) return false;
  return [1, 11].some((by) => (played & ~transposeSet(own.set, by)) === 0);
}

/** Whether a set is the lesson's scale here moved by a half step, with notes that no single position of the rung holds. */
function isWideSlip(slot: CourseSlot, played: PitchClassSet, rung: CourseSlot['others'][number]): boolean {
  if (slot.planned.chordScale?.inside === false) return false;
  if (rung.positions.some(({ set }) => (played & ~set) === 0)) return false;
  return [1, 11].some((by) => (played & ~transposeSet(slot.scale, by)) === 0);
}

/** Inside, or the tonic's raised row. */
const isNear = ({ inside, reason }: ChordScale): boolean => inside || reason.code === 'scale.raised-tonic';

/** Classes of a position's five notes from which it has shown itself. */
const TELLING_CLASSES = 4;

/** The raised row, or another inside, one of whose positions holds every note over a chord; undefined where they are too few to say. */
function rowOfAll(slot: CourseSlot, notes: readonly PlacedNote[]): CourseSlot['others'][number] | undefined {
  const played = classesIn(notes);
  if (sizeOf(played) < TELLING_CLASSES) return undefined;
  return slot.others.find(
    ({ chordScale, positions }) => isNear(chordScale) && positions.some(({ set }) => (played & ~set) === 0),
  );
}

type Judged = Pick<SlotVerdict, 'kind' | 'outside' | 'rung' | 'sure'>;

/** From this share of a chord's notes on, they are the written ones moved. */
const MOVED_SHARE = 0.6;

/** How far the lesson's own line was moved over a chord, where it was: the same half steps for most of its notes. */
function movedBy(notes: readonly PlacedNote[]): number | null {
  const counts = new Map<number, number>();
  for (const { key, writtenKey, isWritten } of notes) {
    if (isWritten || writtenKey === null || (key - writtenKey) % 12 === 0) continue;
    counts.set(key - writtenKey, (counts.get(key - writtenKey) ?? 0) + 1);
  }
  const [by, count] = [...counts].reduce((best, each) => (each[1] > best[1] ? each : best), [0, 0]);
  return notes.length >= 3 && count >= MOVED_SHARE * notes.length ? by : null;
}

/** The lesson's own line a half step beside itself, or on another rung; null where it was not moved. */
function judgeMoved(slot: CourseSlot, notes: readonly PlacedNote[]): Judged | null {
  const by = movedBy(notes);
  const strange = notes.filter(({ key, isWritten }) => !isWritten && !sounds(slot.scale, key));
  if (by === null || strange.length === 0) return null;
  const sure = sureOf(notes.length);
  if (Math.abs(by) === 1) return { kind: 'outside', outside: strange, rung: null, sure };
  const played = classesIn(notes);
  const rung = slot.others.find(({ chordScale }) => (played & ~chordScale.set) === 0);
  return rung === undefined ? null : { kind: 'other move', outside: [], rung, sure };
}

/** What the notes over a chord say: at home, another move, or outside all that the lesson allows. */
function judgeSlot(slot: CourseSlot, notes: readonly PlacedNote[], approaches: ReadonlySet<PlacedNote>): Judged {
  const moved = judgeMoved(slot, notes);
  if (moved !== null) return moved;
  // what the lesson itself has there is at home
  if (notes.every(({ isWritten }) => isWritten))
    return { kind: 'family', outside: [], rung: null, sure: sureOf(notes.length) };
  const telling = notes.filter((each) => !approaches.has(each) && !each.isWritten);
  const foreign = telling.filter(({ key }) => !sounds(slot.scale, key));
  const enough = (few: number): boolean => few >= 2 || (few === 1 && few / telling.length >= FOREIGN_SHARE);
  const sureOfNotes = telling.length < 2 ? null : sureOf(telling.length);
  const played = classesIn(telling);
  // the raised row differs in one note, which tells; another row where all lie in one of its positions
  const row = slot.others.find(
    ({ chordScale, positions }) =>
      positions.some(({ set }) => (played & ~set) === 0) ||
      (isNear(chordScale) && positions.length > 0 && (played & ~chordScale.set) === 0),
  );
  const strange = notes.filter(({ key, isWritten }) => !isWritten && !sounds(slot.scale, key));
  // notes that look like approaches are none where all lie a half step beside the lesson's position, or come again
  if (strange.length >= 2 && notes.length >= 3 && isSlip(slot, classesIn(notes))) {
    return { kind: 'outside', outside: strange, rung: null, sure: sureOf(strange.length * 1.5) };
  }
  const isAgain = strange.length >= 3 && strange.every(({ key }) => sounds(row?.chordScale.set ?? slot.scale, key));
  // what leads into the next chord's note may look like an approach; four of the five notes of a row's position are no chance
  const inRow = sizeOf(classesIn(strange)) === 1 ? rowOfAll(slot, notes) : undefined;
  if (inRow !== undefined) return { kind: 'other move', outside: [], rung: inRow, sure: sureOf(notes.length * 0.6) };
  const isRow = (foreign.length > 0 || isAgain) && notes.length >= 3 && row !== undefined && !isSlip(slot, played);
  if (isRow) return { kind: 'other move', outside: [], rung: row, sure: sureOf(telling.length * 0.6) };
  if (!enough(foreign.length)) return { kind: 'family', outside: foreign, rung: null, sure: sureOfNotes };
  const rung = slot.others.find(({ chordScale, positions }) => {
    if ((played & ~chordScale.set) !== 0) return false;
    // a scale that no usual shape makes must show itself with more of its notes
    return positions.length > 0 || sizeOf(played) >= 4;
  });
  const sure = sureOf(foreign.length * 1.5);
  if (rung !== undefined && !isSlip(slot, played) && !isWideSlip(slot, played, rung)) {
    return { kind: 'other move', outside: [], rung, sure };
  }
  return { kind: 'outside', outside: foreign, rung: null, sure };
}

function sharesOf(states: readonly (FoundPlace | null)[]): FoundPosition[] {
  const counts = new Map<FoundPlace, number>();
  for (const state of states) if (state !== null) counts.set(state, (counts.get(state) ?? 0) + 1);
  return [...counts]
    .map(([{ thumb, shape, kind, position }, count]) => ({
      thumb,
      shape,
      kind,
      position,
      share: Math.round((100 * count) / states.length) / 100,
    }))
    .sort((a, b) => b.share - a.share);
}

/**
 * What the right hand did over each chord that it played over, in order.
 * @param notes the right hand's, in order of time
 */
export function judgePositions(notes: readonly PlacedNote[]): SlotVerdict[] {
  const approaches = notes.map((note, index) => !sounds(note.slot.scale, note.key) && isApproach(notes, index));
  const leading = new Set(notes.filter((_, index) => approaches[index]));
  const states = walk(notes, approaches);
  const bySlot = new Map<CourseSlot, number[]>();
  notes.forEach(({ slot }, index) => {
    const own = bySlot.get(slot);
    if (own === undefined) bySlot.set(slot, [index]);
    else own.push(index);
  });
  return [...bySlot].map(([slot, indices]) => {
    const own = indices.map((index) => notes[index] as PlacedNote);
    const places = slot.chord === null ? own.map(() => null) : indices.map((index) => states[index] ?? null);
    return {
      slot,
      notes: own,
      places,
      positions: sharesOf(places),
      ...judgeSlot(slot, own, leading),
    };
  });
}
