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

/** One hand, somewhere on its way. */
interface Place {
  /** The middle of what it struck last; null before its first stroke. */
  readonly centre: number | null;
  readonly lastSeconds: number;
  /** Keys it holds, each until when. */
  readonly held: readonly { readonly key: number; readonly untilSeconds: number }[];
}

interface Way {
  readonly cost: number;
  readonly left: Place;
  readonly right: Place;
  /** How many of the stroke's lowest keys the left took, and the way to here. */
  readonly split: number;
  readonly before: Way | null;
}

const RESTING: Place = { centre: null, lastSeconds: Number.NEGATIVE_INFINITY, held: [] };

/** A hand after a stroke, and what it costs to get there. */
function reach(place: Place, keys: readonly Struck[], at: number, side: HandSide): { place: Place; cost: number } {
  const held = place.held.filter(({ untilSeconds }) => untilSeconds > at + 0.02);
  if (keys.length === 0) return { place: held.length === place.held.length ? place : { ...place, held }, cost: 0 };
  const low = (keys[0] as Struck).key;
  const high = (keys.at(-1) as Struck).key;
  const heldKeys = held.map(({ key }) => key);
  const span = Math.max(high, ...heldKeys) - Math.min(low, ...heldKeys);
  const centre = (low + high) / 2;
  let cost = Math.max(0, span - OCTAVE) * COST.stretch;
  // a hand that jumps lets go of what the pedal holds: a far stretch costs no more than two octaves
  cost = Math.min(cost, OCTAVE * COST.stretch);
  if (place.centre !== null) {
    const idle = Math.max(0.05, at - place.lastSeconds);
    cost += Math.abs(centre - place.centre) * COST.move * (idle < 0.3 ? 1.5 : idle > 2 ? 0.3 : 1);
  }
  for (const { key } of keys) {
    const strayed = side === 'left' ? key - MIDDLE_C : MIDDLE_C - key;
    cost += Math.max(0, strayed) * COST.strayed;
  }
  const now = keys.map((each) => ({ key: each.key, untilSeconds: each.startSeconds + each.durationSeconds }));
  return { place: { centre, lastSeconds: at, held: [...held, ...now].slice(-FINGERS_HELD) }, cost };
}

function step(way: Way, keys: readonly Struck[], split: number, at: number): Way {
  const left = reach(way.left, keys.slice(0, split), at, 'left');
  const right = reach(way.right, keys.slice(split), at, 'right');
  let cost = way.cost + left.cost + right.cost;
  const leftHigh = Math.max(...left.place.held.map(({ key }) => key), Number.NEGATIVE_INFINITY);
  const rightLow = Math.min(...right.place.held.map(({ key }) => key), Number.POSITIVE_INFINITY);
  if (leftHigh > rightLow) cost += COST.crossed;
  // nothing in the left, neither struck nor held: the lowest key would be its bass
  const isAlone = split === 0 && left.place.held.length === 0;
  if (isAlone && (keys[0] as Struck).key < MIDDLE_C) cost += COST.noBass;
  return { cost, left: left.place, right: right.place, split, before: way };
}

/** Of ways that leave both hands in the same places the cheapest, and of those the best few. */
function best(ways: readonly Way[]): Way[] {
  const known = new Map<string, Way>();
  for (const way of ways) {
    const place = `${way.left.centre} ${way.right.centre}`;
    const other = known.get(place);
    if (other === undefined || way.cost < other.cost) known.set(place, way);
  }
  return [...known.values()].sort((a, b) => a.cost - b.cost).slice(0, WAYS);
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
    const splits = splitsOf(keys.length);
    ways = best(ways.flatMap((way) => splits.map((split) => step(way, keys, split, at))));
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
