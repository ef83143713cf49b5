/** A ladder of tempi in one key after the other: how it climbs, steps back and is gone on with. Never a must: any rung may be chosen. */

/** Key by key: all tempi in one key before the next. Tempo by tempo: all keys at one tempo before the next. */
export const LADDER_ORDERS = ['key by key', 'tempo by tempo'] as const;
export type LadderOrder = (typeof LADDER_ORDERS)[number];

export interface Ladder {
  readonly order: LadderOrder;
  /** By name, in turn. */
  readonly keys: readonly string[];
  /** Rising; the last is the goal, or what the hand allows. */
  readonly tempi: readonly number[];
  /** The rung reached in each key. */
  readonly rungs: readonly number[];
  /** The key that is practised now, among `keys`. */
  readonly key: number;
  /** Passes in a row that were clean, and that were not yet, on this rung. */
  readonly clean: number;
  readonly notYet: number;
}

/** What a pass was. */
export type PassAnswer = 'clean' | 'not yet';

/** So many passes in a row that are not yet there make a step back: our own. */
const NOT_YET_TO_STEP_BACK = 2;

/**
 * A ladder from its first rung.
 * @throws RangeError where there is no key or no tempo
 */
export function newLadder(order: LadderOrder, keys: readonly string[], tempi: readonly number[]): Ladder {
  if (keys.length === 0 || tempi.length === 0) throw new RangeError('keys and tempi must each be there');
  return { order, keys, tempi, rungs: keys.map(() => 0), key: 0, clean: 0, notYet: 0 };
}

/** Where one is: the key and the tempo. */
export function rungOf({ keys, tempi, rungs, key }: Ladder): { readonly key: string; readonly tempoBpm: number } {
  return { key: keys[key] as string, tempoBpm: tempi[rungs[key] as number] as number };
}

/** Whether the top is reached in every key. */
export function isThrough({ rungs, tempi }: Ladder): boolean {
  return rungs.every((rung) => rung === tempi.length - 1);
}

const moved = (ladder: Ladder, key: number, rung: number): Ladder => ({
  ...ladder,
  key,
  rungs: ladder.rungs.map((each, index) => (index === key ? rung : each)),
  clean: 0,
  notYet: 0,
});

/** The next place after a rung is cleared; the same place at the very top. */
function climbed(ladder: Ladder): Ladder {
  const { order, keys, tempi, rungs, key } = ladder;
  const rung = rungs[key] as number;
  const top = tempi.length - 1;
  if (order === 'key by key') {
    if (rung < top) return moved(ladder, key, rung + 1);
    const next = keys.findIndex((_, index) => index > key);
    return next < 0 ? moved(ladder, key, top) : moved(ladder, next, rungs[next] as number);
  }
  // the next key that has not come past this tempo; after the last, the first key a step higher
  const next = rungs.findIndex((each, index) => index > key && each <= rung);
  if (next >= 0) return moved(ladder, next, rungs[next] as number);
  if (rung === top) return moved(ladder, key, top);
  const raised = { ...ladder, rungs: rungs.map((each) => Math.max(each, rung + 1)) };
  return moved(raised, 0, raised.rungs[0] as number);
}

/**
 * After a pass. It climbs after so many clean passes in a row; after two that are not yet there it goes a step back, where there is one.
 * @param passesToClimb clean passes asked for on each rung, 1 or more
 */
export function afterPass(ladder: Ladder, answer: PassAnswer, passesToClimb: number): Ladder {
  if (answer === 'clean') {
    const clean = ladder.clean + 1;
    return clean >= passesToClimb ? climbed(ladder) : { ...ladder, clean, notYet: 0 };
  }
  const notYet = ladder.notYet + 1;
  const rung = ladder.rungs[ladder.key] as number;
  if (notYet >= NOT_YET_TO_STEP_BACK && rung > 0) return moved(ladder, ladder.key, rung - 1);
  return { ...ladder, clean: 0, notYet };
}

/** Goes to a key and a tempo by the player's own will: kept within what there is. */
export function goTo(ladder: Ladder, key: number, rung: number): Ladder {
  const within = (value: number, count: number): number => Math.max(0, Math.min(count - 1, Math.round(value)));
  return moved(ladder, within(key, ladder.keys.length), within(rung, ladder.tempi.length));
}

/** The same ladder no higher than a tempo: what the hand allows. The first tempo stays where even that is too fast. */
export function withLimit(ladder: Ladder, limitBpm: number): Ladder {
  const below = ladder.tempi.filter((each) => each < limitBpm);
  const tempi = ladder.tempi.some((each) => each >= limitBpm) ? [...below, limitBpm] : below;
  const top = tempi.length - 1;
  return { ...ladder, tempi, rungs: ladder.rungs.map((rung) => Math.min(rung, top)) };
}

/**
 * What was kept of a ladder, for one that is asked for now: in each key the rung of the tempo it stood at, or the nearest below.
 * @param kept key and tempo reached, as they were kept
 */
export function gonOn(
  ladder: Ladder,
  kept: { readonly key: string; readonly reached: readonly { readonly key: string; readonly tempoBpm: number }[] },
): Ladder {
  const rungs = ladder.keys.map((name) => {
    const tempoBpm = kept.reached.find(({ key }) => key === name)?.tempoBpm ?? 0;
    return Math.max(
      0,
      ladder.tempi.findLastIndex((each) => each <= tempoBpm),
    );
  });
  return { ...ladder, rungs, key: Math.max(0, ladder.keys.indexOf(kept.key)) };
}

/** What is kept of a ladder: where it stands in each key. */
export function keptOf({ keys, tempi, rungs, key }: Ladder): Parameters<typeof gonOn>[1] {
  return {
    key: keys[key] as string,
    reached: keys.map((name, index) => ({ key: name, tempoBpm: tempi[rungs[index] as number] as number })),
  };
}
