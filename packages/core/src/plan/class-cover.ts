/** What a search for covers of one size found. */
export interface CoverLevel {
  /** How many candidates a cover has. */
  readonly size: number;
  /** Choices looked at: the proof that no smaller cover was missed. */
  readonly nodes: number;
  /** Branches left at once, because even the widest candidates could not have covered the rest. */
  readonly pruned: number;
  readonly covers: readonly (readonly number[])[];
}

/** Rows that hold all of another row's candidates ask for nothing more than that row does. */
function withoutImplied(rows: readonly bigint[]): bigint[] {
  const distinct = [...new Set(rows)];
  return distinct.filter((row) => !distinct.some((other) => other !== row && (other & row) === other));
}

function indicesOf(row: bigint): number[] {
  const indices: number[] = [];
  for (let index = 0, rest = row; rest !== 0n; index++, rest >>= 1n) if ((rest & 1n) === 1n) indices.push(index);
  return indices;
}

/**
 * A lower bound for what is left: rows no two of which share a candidate need one candidate each. Rows with the fewest
 * candidates are taken first.
 */
function boundOf(rows: readonly bigint[], forbidden: bigint): number {
  let [seen, count] = [0n, 0];
  for (const row of rows) {
    const open = row & ~forbidden;
    if ((open & seen) !== 0n) continue;
    seen |= open;
    count++;
  }
  return count;
}

/**
 * All covers of this size: sets of candidates of which every row holds one, and none can be left out. Branch and bound: a row
 * with the fewest candidates is taken, each of them tried in turn, those tried before forbidden, so that no set comes twice.
 * @param rows one a demand: a mask of the candidates that meet it.
 */
export function coversOfSize(rows: readonly bigint[], size: number): CoverLevel {
  let [nodes, pruned] = [0, 0];
  const covers: number[][] = [];
  const chosen: number[] = [];
  const descend = (left: readonly bigint[], forbidden: bigint): void => {
    nodes++;
    if (left.length === 0) {
      if (chosen.length === size) covers.push([...chosen].sort((a, b) => a - b));
      return;
    }
    if (chosen.length + boundOf(left, forbidden) > size) {
      pruned++;
      return;
    }
    let [row, fewest] = [0n, Number.POSITIVE_INFINITY];
    for (const each of left) {
      const open = each & ~forbidden;
      const count = indicesOf(open).length;
      if (count < fewest) [row, fewest] = [open, count];
    }
    let tried = forbidden;
    for (const index of indicesOf(row)) {
      const bit = 1n << BigInt(index);
      chosen.push(index);
      descend(
        left.filter((each) => (each & bit) === 0n),
        tried,
      );
      chosen.pop();
      tried |= bit;
    }
  };
  descend(withoutImplied(rows), 0n);
  return { size, nodes, pruned, covers };
}
