import { randomSource, type RandomSource } from '@fivespan/core';

/** Draws of one input: the same kind, seed and number give the same input on every machine. */
export interface Chance {
  /** An integer from 0 to `below` − 1. */
  readonly upTo: (below: number) => number;
  /** One of a list. */
  readonly of: <Item>(items: readonly Item[]) => Item;
  /** True once in so many. */
  readonly once: (inSoMany: number) => boolean;
}

/** The chance of one input, by its kind's name, the run's seed and its number in the run. */
export function chanceOf(kind: string, seed: number, number: number): Chance {
  const source: RandomSource = randomSource(seed, `${kind} ${number}`);
  const upTo = (below: number): number => source.integer(below);
  return {
    upTo,
    of: <Item>(items: readonly Item[]): Item => items[upTo(items.length)] as Item,
    once: (inSoMany) => upTo(inSoMany) === 0,
  };
}
