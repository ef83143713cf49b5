/** What a free hand sees: every thumb it may take on the keys that are shown, what stays, what slides, and what comes how early. */
import { distanceMm, moveHundredths, type Position } from '../hand/index.ts';
import { pitchClassOf, type Midi } from '../theory/index.ts';
import type { AllowedFamily } from './allowed-families.ts';

/** A place where a free hand may lie. */
export interface FreeThumb {
  readonly thumbMidi: Midi;
  readonly position: Position;
  readonly which: AllowedFamily['which'];
}

/** The highest key of a piano (88 keys): the little finger must have one. */
const HIGHEST_KEY = 108;

/** As much of a family as is needed to place its thumbs. */
type Placed = Pick<AllowedFamily, 'which' | 'positions'>;

/**
 * Every thumb of the families in every octave of the keys shown, ascending; of two on one key the first family's before. A hand may
 * reach past the picture, not past the piano.
 * @example freeThumbs(allowedFamilies(choices.pins.plan, 'medium')(plan.slots[0]!), { lowest: midi(60), highest: midi(71) }).length // → 3
 */
export function freeThumbs(
  families: readonly Placed[],
  shown: { readonly lowest: Midi; readonly highest: Midi },
): readonly FreeThumb[] {
  const thumbs: FreeThumb[] = [];
  for (let key: number = shown.lowest; key <= shown.highest; key++) {
    for (const { which, positions } of families) {
      for (const position of positions) {
        const isHere = pitchClassOf(position.thumb) === key % 12 && key + position.shape.steps[4] <= HIGHEST_KEY;
        if (isHere) thumbs.push({ thumbMidi: key as Midi, position, which });
      }
    }
  }
  return thumbs;
}

/** Whether two places are one for the hand: the same keys under the same fingers. */
export function isSameThumb(a: FreeThumb, b: FreeThumb): boolean {
  return a.thumbMidi === b.thumbMidi && a.position.shape.id === b.position.shape.id;
}

/** Whether a free hand may do the same over two chords. */
export function isSameFreedom(a: readonly Placed[], b: readonly Placed[]): boolean {
  const placesOf = (families: readonly Placed[]): string =>
    families
      .flatMap(({ which, positions }) =>
        positions.map(({ shape, thumb }) => `${which} ${shape.id} ${pitchClassOf(thumb)}`),
      )
      .toSorted()
      .join();
  return placesOf(a) === placesOf(b);
}

/**
 * Where each tab comes from when the families change. What stays comes from itself; the others slide along the front edge, each from
 * a tab that goes, none past another, so that together they go the shortest way and as many slide as can.
 * @param from places before, ascending
 * @param to places after, ascending
 * @param isSame whether what is on a key stays there
 * @returns for each place after the index of the one before; null where a tab is new
 */
export function slidesOf<Each extends Pick<FreeThumb, 'thumbMidi'>>(
  from: readonly Each[],
  to: readonly Each[],
  isSame: (before: Each, after: Each) => boolean,
): readonly (number | null)[] {
  const comesFrom: (number | null)[] = to.map((each) => {
    const stays = from.findIndex((before) => isSame(before, each));
    return stays < 0 ? null : stays;
  });
  const stayed = new Set(comesFrom);
  const leaving = from.flatMap((_, index) => (stayed.has(index) ? [] : [index]));
  const arriving = to.flatMap((_, index) => (comesFrom[index] === null ? [index] : []));
  // the shorter list is used up; of the longer one some are passed over, which costs nothing
  const [few, many, isArriving] =
    arriving.length <= leaving.length ? [arriving, leaving, true] : [leaving, arriving, false];
  const keyAt = (list: readonly Each[], index: number): Midi => (list[index] as Each).thumbMidi;
  const [fewKeys, manyKeys] = isArriving
    ? [few.map((each) => keyAt(to, each)), many.map((each) => keyAt(from, each))]
    : [few.map((each) => keyAt(from, each)), many.map((each) => keyAt(to, each))];
  // least[n][m]: the shortest way of the first n of the few among the first m of the many
  const least = fewKeys.map(() => manyKeys.map(() => Number.POSITIVE_INFINITY));
  const way = (n: number, m: number): number => (n < 0 ? 0 : m < n ? Number.POSITIVE_INFINITY : (least[n]?.[m] ?? 0));
  for (const [n, key] of fewKeys.entries()) {
    for (let m = n; m < manyKeys.length; m++) {
      const taken = way(n - 1, m - 1) + distanceMm(key, manyKeys[m] as Midi);
      (least[n] as number[])[m] = Math.min(way(n, m - 1), taken);
    }
  }
  for (let n = few.length - 1, m = many.length - 1; n >= 0; m--) {
    if (way(n, m - 1) === way(n, m)) continue;
    const [arrives, leaves] = isArriving ? [few[n], many[m]] : [many[m], few[n]];
    comesFrom[arrives as number] = leaves as number;
    n--;
  }
  return comesFrom;
}

/** To see a sign that was waited for and begin to move: a quarter of a second (simple reaction with the hand, from memory). */
const SEEING_HUNDREDTHS = 25;

/** More is no warning but a second page: our own. */
const MOST_BEATS_AHEAD = 4;

/**
 * How many beats before a change its families are shown: time to see them and, from whichever thumb the hand has, to find the nearest
 * of the new ones. At least one beat, at most four.
 * @param from places before; the way is the longest that any of them has
 * @example beatsAhead([], [], 132) // → 1
 */
export function beatsAhead(from: readonly FreeThumb[], to: readonly FreeThumb[], tempoBpm: number): number {
  let longest = 0;
  for (const { thumbMidi } of from) {
    let nearest: FreeThumb | undefined;
    for (const each of to) {
      const isNearer =
        nearest === undefined || distanceMm(thumbMidi, each.thumbMidi) < distanceMm(thumbMidi, nearest.thumbMidi);
      if (isNearer) nearest = each;
    }
    if (nearest !== undefined) longest = Math.max(longest, moveHundredths(thumbMidi, nearest.thumbMidi));
  }
  const beats = Math.ceil(((SEEING_HUNDREDTHS + longest) * tempoBpm) / 6000);
  return Math.max(1, Math.min(MOST_BEATS_AHEAD, beats));
}
