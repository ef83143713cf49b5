/** A moment that is known in both: in the record of what was played, and in the film that shows it. */
export interface ClockMark {
  readonly takeSeconds: number;
  readonly filmSeconds: number;
}

/** Clocks of recorders stray by less than a thousandth; by this much only where a mark is not what it is taken for. Common practice. */
const MOST_DRIFT = 0.02;

/** Marks that lie closer together say more about a finger than about a clock. */
const LEAST_APART_SECONDS = 1;

/** Why marks cannot be followed; undefined where they can. */
export function clockFault(marks: readonly ClockMark[]): 'too many' | 'too close' | 'too far off' | undefined {
  const [first, second] = marks;
  if (marks.length > 2) return 'too many';
  if (first === undefined || second === undefined) return undefined;
  const take = second.takeSeconds - first.takeSeconds;
  const film = second.filmSeconds - first.filmSeconds;
  if (Math.abs(take) < LEAST_APART_SECONDS || Math.abs(film) < LEAST_APART_SECONDS) return 'too close';
  return Math.abs(film / take - 1) > MOST_DRIFT ? 'too far off' : undefined;
}

/**
 * From the record's time to the film's: one mark says where the record begins, two also how much faster one clock is than the other.
 * @param marks at most two, without a fault; none for the same time in both
 * @param offsetMs how much later everything is seen
 * @example clockOf([{ takeSeconds: 1, filmSeconds: 4.5 }])(2) // → 5.5
 */
export function clockOf(marks: readonly ClockMark[], offsetMs = 0): (takeSeconds: number) => number {
  const fault = clockFault(marks);
  if (fault !== undefined) throw new RangeError(`marks must be two moments of one performance: they are ${fault}`);
  const [first, second] = marks;
  const late = offsetMs / 1000;
  if (first === undefined) return (seconds) => seconds + late;
  const rate =
    second === undefined ? 1 : (second.filmSeconds - first.filmSeconds) / (second.takeSeconds - first.takeSeconds);
  return (seconds) => first.filmSeconds + (seconds - first.takeSeconds) * rate + late;
}

/**
 * Seconds as one writes a place in a film; null where it is none.
 * @example readClock('1:03.25') // → 63.25
 */
export function readClock(text: string): number | null {
  const [, minutes = '0', seconds] = /^(?:(\d{1,3}):(?=\d\d))?(\d{1,5}(?:\.\d{1,6})?)$/u.exec(text.trim()) ?? [];
  return seconds === undefined ? null : Number(minutes) * 60 + Number(seconds);
}

/** From where on one second of a record lasts `rate` seconds of a clock: a recording whose tempo changes. */
export interface TempoPlace {
  readonly seconds: number;
  readonly clockSeconds: number;
  readonly rate: number;
}

/**
 * The clock's time of a moment of a record. Places ascend; none where both go alike.
 * @example clockTime([{ seconds: 2, clockSeconds: 2, rate: 0.5 }], 4) // → 3
 */
export function clockTime(places: readonly TempoPlace[], seconds: number): number {
  const place = places.findLast((each) => each.seconds <= seconds);
  return place === undefined ? seconds : place.clockSeconds + (seconds - place.seconds) * place.rate;
}
