/**
 * Which hand struck which key, where the keyboard does not say. The model: each hand is a span that moves. It reaches about an
 * octave, keys it still holds included; moving costs, more so in little time; the hands do not cross within a chord; and the
 * lowest line pulls to the left, as a bass does. The cheapest way through all strokes is found by dynamic programming over the
 * places both hands can be in, the best of them kept at each stroke. Spans: docs/hand.md; weights are our own, set on
 * the open split of Vienna 4x22 (docs/takes.md).
 */
import type { HandSide } from '../hand/index.ts';

/** What the model reads of a note. */
export interface Struck {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly key: number;
}

/** Keys struck within this are struck at once. Common practice: the notes of a chord lie up to some 30 ms apart. */
const AT_ONCE_SECONDS = 0.035;

/** How many ways are kept at each stroke. */
const WAYS = 10;

const COST = {
  /** A semitone that a hand's place moves; moving fast costs up to twice as much. */
  move: 1,
  /** A semitone beyond an octave in one hand, held keys included. */
  stretch: 6,
  /** A semitone of a key in the hand that it does not belong to by height: the left above middle C, the right below it. */
  strayed: 0.25,
  /** A hand that has to pass under or over the other. */
  crossed: 14,
  /** The lowest key of all that sound, in the right hand though the left is free. */
  noBass: 3,
} as const;

/** What the pedal holds beyond the fingers binds nobody. */
const FINGERS_HELD = 5;

const OCTAVE = 12;
const MIDDLE_C = 60;

/** A key that a hand holds, and until when. */
interface Held {
  readonly key: number;
  readonly untilSeconds: number;
}

/** One hand, somewhere on its way. */
interface Place {
  /** The middle of what it struck last; null before its first stroke. */
  readonly centre: number | null;
  readonly lastSeconds: number;
  readonly held: readonly Held[];
}

interface Way {
  readonly cost: number;
  readonly left: Place;
  readonly right: Place;
  /** How many of the stroke's lowest keys the left took, and the way to here. */
  readonly split: number;
  readonly before: Way | null;
}

/** A way that goes on with a stroke's lowest keys in the left hand, before its hands' places are made: few of them are kept. */
interface Candidate {
  way: Way;
  split: number;
  cost: number;
}

const RESTING: Place = { centre: null, lastSeconds: Number.NEGATIVE_INFINITY, held: [] };

const keyAt = (keys: readonly Struck[], index: number): number => (keys[index] as Struck).key;

/** A hand at a moment: what it has let go of it holds no longer. */
function heldAt(place: Place, at: number): Place {
  const until = at + 0.02;
  if (place.held.every(({ untilSeconds }) => untilSeconds > until)) return place;
  return { ...place, held: place.held.filter(({ untilSeconds }) => untilSeconds > until) };
}

/** What it costs a hand to strike the keys of a stroke from one on, before another. */
function costToReach(
  place: Place,
  keys: readonly Struck[],
  [from, to]: readonly [from: number, to: number],
  at: number,
  side: HandSide,
): number {
  if (from === to) return 0;
  const low = keyAt(keys, from);
  const high = keyAt(keys, to - 1);
  let [lowest, highest] = [low, high];
  for (const { key } of place.held) {
    if (key < lowest) lowest = key;
    if (key > highest) highest = key;
  }
  let cost = Math.max(0, highest - lowest - OCTAVE) * COST.stretch;
  // a hand that jumps lets go of what the pedal holds: a far stretch costs no more than two octaves
  cost = Math.min(cost, OCTAVE * COST.stretch);
  if (place.centre !== null) {
    const idle = Math.max(0.05, at - place.lastSeconds);
    cost += Math.abs((low + high) / 2 - place.centre) * COST.move * (idle < 0.3 ? 1.5 : idle > 2 ? 0.3 : 1);
  }
  for (let index = from; index < to; index++) {
    const key = keyAt(keys, index);
    const strayed = side === 'left' ? key - MIDDLE_C : MIDDLE_C - key;
    cost += Math.max(0, strayed) * COST.strayed;
  }
  return cost;
}

/** The outermost key that a hand holds after a stroke: the left's highest, the right's lowest. */
function outermost(place: Place, keys: readonly Struck[], from: number, to: number, side: HandSide): number {
  const pick = side === 'left' ? Math.max : Math.min;
  let found = side === 'left' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  const letGo = Math.max(0, place.held.length + to - from - FINGERS_HELD);
  for (let index = letGo; index < place.held.length; index++) found = pick(found, (place.held[index] as Held).key);
  for (let index = from + Math.max(0, letGo - place.held.length); index < to; index++)
    found = pick(found, keyAt(keys, index));
  return found;
}

/** What a way costs that goes on with so many of a stroke's lowest keys in the left hand. */
function costOf(way: Way, keys: readonly Struck[], split: number, at: number): number {
  const { left, right } = way;
  let cost = way.cost + costToReach(left, keys, [0, split], at, 'left');
  cost += costToReach(right, keys, [split, keys.length], at, 'right');
  if (outermost(left, keys, 0, split, 'left') > outermost(right, keys, split, keys.length, 'right'))
    cost += COST.crossed;
  // nothing in the left, neither struck nor held: the lowest key would be its bass
  if (split === 0 && left.held.length === 0 && keyAt(keys, 0) < MIDDLE_C) cost += COST.noBass;
  return cost;
}

/** A hand after it struck these keys. */
function reached(place: Place, keys: readonly Struck[], at: number): Place {
  if (keys.length === 0) return place;
  const now = keys.map(({ key, startSeconds, durationSeconds }) => ({
    key,
    untilSeconds: startSeconds + durationSeconds,
  }));
  return {
    centre: (keyAt(keys, 0) + keyAt(keys, keys.length - 1)) / 2,
    lastSeconds: at,
    held: [...place.held, ...now].slice(-FINGERS_HELD),
  };
}

/** The places that both hands are in as one number: their middles in half steps of half a key, 0 for a hand that rests. */
function placesOf({ way, split }: Candidate, keys: readonly Struck[]): number {
  const left = split === 0 ? way.left.centre : (keyAt(keys, 0) + keyAt(keys, split - 1)) / 2;
  const right = split === keys.length ? way.right.centre : (keyAt(keys, split) + keyAt(keys, keys.length - 1)) / 2;
  return (left === null ? 0 : 2 * left + 1) * 1024 + (right === null ? 0 : 2 * right + 1);
}

/** Of all that may follow the ways with a stroke: of those that leave both hands in the same places the cheapest, of these the best few. */
function step(ways: readonly Way[], keys: readonly Struck[], at: number): Way[] {
  const known = new Map<number, Candidate>();
  const splits = splitsOf(keys.length);
  for (const before of ways) {
    const way = { ...before, left: heldAt(before.left, at), right: heldAt(before.right, at), before };
    for (const split of splits) {
      const candidate = { way, split, cost: costOf(way, keys, split, at) };
      const places = placesOf(candidate, keys);
      const other = known.get(places);
      if (other === undefined) known.set(places, candidate);
      else if (candidate.cost < other.cost) Object.assign(other, candidate);
    }
  }
  return [...known.values()]
    .sort((a, b) => a.cost - b.cost)
    .slice(0, WAYS)
    .map(({ way, split, cost }) => ({
      cost,
      left: reached(way.left, keys.slice(0, split), at),
      right: reached(way.right, keys.slice(split), at),
      split,
      before: way.before,
    }));
}

/** More keys at once than two hands and forearms strike are no music: then only some places between them are tried. */
const MOST_AT_ONCE = 24;

/** How many of the lowest keys of a stroke may be the left hand's. */
function splitsOf(keys: number): number[] {
  const tried = Math.min(keys, MOST_AT_ONCE);
  return Array.from({ length: tried + 1 }, (_, at) => Math.round((at * keys) / Math.max(1, tried)));
}

/**
 * The hand of each note.
 * @param notes in order of time
 * @example handsOf([{ startSeconds: 0, durationSeconds: 1, key: 36 }, { startSeconds: 0, durationSeconds: 1, key: 72 }]) // → ['left', 'right']
 */
export function handsOf(notes: readonly Struck[]): HandSide[] {
  const strokes: { readonly notes: { readonly note: Struck; readonly index: number }[]; readonly at: number }[] = [];
  for (const [index, note] of notes.entries()) {
    const last = strokes.at(-1);
    if (last !== undefined && note.startSeconds - last.at <= AT_ONCE_SECONDS) last.notes.push({ note, index });
    else strokes.push({ notes: [{ note, index }], at: note.startSeconds });
  }
  for (const stroke of strokes) stroke.notes.sort((a, b) => a.note.key - b.note.key);
  let ways: Way[] = [{ cost: 0, left: RESTING, right: RESTING, split: 0, before: null }];
  for (const { notes: struck, at } of strokes) {
    const keys = struck.map(({ note }) => note);
    ways = step(ways, keys, at);
  }
  const hands: HandSide[] = notes.map(() => 'right');
  let way: Way | null = ways[0] ?? null;
  for (let at = strokes.length - 1; at >= 0 && way !== null; at--) {
    const { split } = way;
    strokes[at]?.notes.forEach(({ index }, order) => (hands[index] = order < split ? 'left' : 'right'));
    way = way.before;
  }
  return hands;
}
