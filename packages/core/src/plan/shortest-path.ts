/** A choice at one step of a path. Choices with the same `place` are the same place: staying is possible between them. */
export interface PathChoice {
  /** Integer cost of being here. */
  readonly cost: number;
  readonly place: string;
}

export interface PathCosts<Choice extends PathChoice> {
  /** Integer cost of the way from one choice to another, 0 between choices at one place; Infinity where it is forbidden. */
  between(from: Choice, to: Choice): number;
  /** Integer cost of staying, after so many stays before it; from the last of `staysTold` on it no longer changes. */
  staying(staysBefore: number): number;
  readonly staysTold: number;
}

export interface Path {
  /** Index of the choice at each step. */
  readonly choices: readonly number[];
  readonly cost: number;
  /** How many ways from one choice to the next were looked at. */
  readonly searched: number;
}

/**
 * The cheapest path through the steps, one choice each: exact, by dynamic programming over (choice, stays so far). Ties go to
 * the earlier choice, at the end of the path first.
 * @throws RangeError where a step has no choice, or no path is allowed.
 */
export function cheapestPath<Choice extends PathChoice>(
  steps: readonly (readonly Choice[])[],
  costs: PathCosts<Choice>,
): Path {
  const { staysTold } = costs;
  let searched = 0;
  let before: Float64Array = new Float64Array(0);
  const cameFrom: Int32Array[] = [];
  for (const [index, choices] of steps.entries()) {
    if (choices.length === 0) throw new RangeError(`steps must each have a choice, not none at ${index}`);
    const now = new Float64Array(choices.length * staysTold).fill(Number.POSITIVE_INFINITY);
    const origins = new Int32Array(now.length).fill(-1);
    const previous = steps[index - 1];
    for (const [to, choice] of choices.entries()) {
      if (previous === undefined) {
        now[to * staysTold] = choice.cost;
        continue;
      }
      for (const [from, other] of previous.entries()) {
        searched++;
        const stays = other.place === choice.place;
        const way = costs.between(other, choice);
        if (way === Number.POSITIVE_INFINITY) continue;
        for (let stay = 0; stay < staysTold; stay++) {
          const origin = from * staysTold + stay;
          const reached = before[origin] as number;
          if (reached === Number.POSITIVE_INFINITY) continue;
          const state = to * staysTold + (stays ? Math.min(stay + 1, staysTold - 1) : 0);
          const cost = reached + way + (stays ? costs.staying(stay) : 0) + choice.cost;
          if (cost < (now[state] as number)) {
            now[state] = cost;
            origins[state] = origin;
          }
        }
      }
    }
    before = now;
    cameFrom.push(origins);
  }
  if (steps.length === 0) return { choices: [], cost: 0, searched };
  let state = before.indexOf(Math.min(...before));
  const cost = before[state] as number;
  if (cost === Number.POSITIVE_INFINITY) throw new RangeError('costs must allow a path');
  const choices: number[] = [];
  for (let index = steps.length - 1; index >= 0; index--) {
    choices.push(Math.floor(state / staysTold));
    state = (cameFrom[index] as Int32Array)[state] as number;
  }
  return { choices: choices.reverse(), cost, searched };
}
