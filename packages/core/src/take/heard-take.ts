/** From keys as they were struck to notes ready to be judged: whose hand, and seconds from bar 1. */
import type { HandSide } from '../hand/index.ts';
import { handsOf } from './hands.ts';
import type { HeardNote, Take } from './take.ts';

type Unhanded = Omit<HeardNote, 'hand'>;

/** Notes that came on one track or channel; `side` where its name says whose hand it is. */
export interface HandGroup {
  readonly side: HandSide | null;
  readonly notes: readonly Unhanded[];
}

const meanKey = ({ notes }: HandGroup): number => notes.reduce((sum, { key }) => sum + key, 0) / notes.length;

/** Two channels whose notes lie so far apart are two hands. */
const HANDS_APART = 7;

/** A line of which fewer notes than this begin while another sounds is one hand's. */
const TOGETHER_SHARE = 0.05;
const OVERLAP_SECONDS = 0.06;
const LOWEST_RIGHT_MEAN = 54;

/** The hands of notes that nothing says anything about. */
function partedHands(notes: readonly Unhanded[]): HandSide[] {
  let until = Number.NEGATIVE_INFINITY;
  let over = 0;
  for (const { startSeconds, durationSeconds } of notes) {
    if (until - startSeconds > OVERLAP_SECONDS) over++;
    until = Math.max(until, startSeconds + durationSeconds);
  }
  if (over / notes.length >= TOGETHER_SHARE) return handsOf(notes);
  const side = meanKey({ side: null, notes }) >= LOWEST_RIGHT_MEAN ? 'right' : 'left';
  return notes.map(() => side);
}

const byTime = (a: Unhanded, b: Unhanded): number => a.startSeconds - b.startSeconds || a.key - b.key;

/**
 * The notes of all groups in order of time, each with its hand: as the groups are named, else two that lie apart, else by how they move.
 * @param groups none empty
 * @example withHands([]) // → []
 */
export function withHands(groups: readonly HandGroup[]): HeardNote[] {
  const [first, second] = groups.toSorted((a, b) => meanKey(a) - meanKey(b));
  let sides: readonly { readonly side: HandSide; readonly group: HandGroup }[];
  if (groups.length > 0 && groups.every(({ side }) => side !== null)) {
    sides = groups.map((group) => ({ side: group.side as HandSide, group }));
  } else if (
    groups.length === 2 &&
    first !== undefined &&
    second !== undefined &&
    meanKey(second) - meanKey(first) >= HANDS_APART
  ) {
    sides = [
      { side: 'left', group: first },
      { side: 'right', group: second },
    ];
  } else {
    const notes = groups.flatMap((group) => group.notes).sort(byTime);
    const hands = partedHands(notes);
    return notes.map((note, index) => ({ ...note, hand: hands[index] as HandSide }));
  }
  return sides
    .flatMap(({ side, group }) => group.notes.map((note): HeardNote => ({ ...note, hand: side })))
    .sort(byTime);
}

/**
 * The notes of a kept take, ready to be judged: seconds from bar 1, the delay taken out. Two channels that lie apart are two hands.
 * @example const rightHand = heardTake(take).filter(({ hand }) => hand === 'right');
 */
export function heardTake({ notes, barOneMicros }: Take): HeardNote[] {
  const channels = new Map<number, Unhanded[]>();
  for (const { startMicros, durationMicros, key, velocity, channel } of notes) {
    const own = channels.get(channel) ?? [];
    channels.set(channel, own);
    own.push({
      startSeconds: (startMicros - barOneMicros) / 1_000_000,
      durationSeconds: durationMicros / 1_000_000,
      key,
      velocity,
    });
  }
  return withHands([...channels.values()].map((own) => ({ side: null, notes: own })));
}
