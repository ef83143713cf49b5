/** Above this many pairs the exact comparison gives way to one by what is there only once. */
const MOST_PAIRS = 4_000_000;

/**
 * Which items of `after` are items of `before`, in order, as many as can be: for each of `after` its index in `before`,
 * or null. A longest common subsequence; in long stretches that differ, only what is there once is found first
 * (patience diff). Sources: Hunt & McIlroy 1976; Cohen, patience diff (both from memory).
 */
export function matchSequences(before: readonly string[], after: readonly string[]): (number | null)[] {
  const matches: (number | null)[] = after.map(() => null);
  matchWithin(before, after, { from: 0, to: before.length }, { from: 0, to: after.length }, matches);
  return matches;
}

interface Span {
  readonly from: number;
  readonly to: number;
}

function matchWithin(
  before: readonly string[],
  after: readonly string[],
  beforeSpan: Span,
  afterSpan: Span,
  matches: (number | null)[],
): void {
  let { from: a, to: aEnd } = beforeSpan;
  let { from: b, to: bEnd } = afterSpan;
  while (a < aEnd && b < bEnd && before[a] === after[b]) matches[b++] = a++;
  while (a < aEnd && b < bEnd && before[aEnd - 1] === after[bEnd - 1]) matches[--bEnd] = --aEnd;
  if (a === aEnd || b === bEnd) return;
  if ((aEnd - a) * (bEnd - b) <= MOST_PAIRS) {
    matchExactly(before, after, { from: a, to: aEnd }, { from: b, to: bEnd }, matches);
    return;
  }
  let aDone = a;
  let bDone = b;
  for (const [aAt, bAt] of anchorsOf(before, after, { from: a, to: aEnd }, { from: b, to: bEnd })) {
    matchWithin(before, after, { from: aDone, to: aAt }, { from: bDone, to: bAt }, matches);
    matches[bAt] = aAt;
    aDone = aAt + 1;
    bDone = bAt + 1;
  }
  if (aDone > a) matchWithin(before, after, { from: aDone, to: aEnd }, { from: bDone, to: bEnd }, matches);
}

function matchExactly(
  before: readonly string[],
  after: readonly string[],
  { from: a, to: aEnd }: Span,
  { from: b, to: bEnd }: Span,
  matches: (number | null)[],
): void {
  const width = bEnd - b + 1;
  /** Length of the longest common subsequence of what follows. */
  const lengths = new Uint16Array((aEnd - a + 1) * width);
  const at = (i: number, j: number): number => (i - a) * width + (j - b);
  for (let i = aEnd - 1; i >= a; i--) {
    for (let j = bEnd - 1; j >= b; j--) {
      lengths[at(i, j)] =
        before[i] === after[j]
          ? (lengths[at(i + 1, j + 1)] as number) + 1
          : Math.max(lengths[at(i + 1, j)] as number, lengths[at(i, j + 1)] as number);
    }
  }
  let i = a;
  let j = b;
  while (i < aEnd && j < bEnd) {
    if (before[i] === after[j]) matches[j++] = i++;
    else if ((lengths[at(i + 1, j)] as number) >= (lengths[at(i, j + 1)] as number)) i++;
    else j++;
  }
}

/** Items that are there once in each, as pairs of indices, as many as keep their order. */
function anchorsOf(before: readonly string[], after: readonly string[], a: Span, b: Span): [number, number][] {
  const once = (items: readonly string[], { from, to }: Span): Map<string, number | null> => {
    const places = new Map<string, number | null>();
    for (let index = from; index < to; index++) {
      const item = items[index] as string;
      places.set(item, places.has(item) ? null : index);
    }
    return places;
  };
  const beforeOnce = once(before, a);
  const pairs: [number, number][] = [];
  for (const [item, bAt] of once(after, b)) {
    const aAt = beforeOnce.get(item);
    if (typeof aAt === 'number' && bAt !== null) pairs.push([aAt, bAt]);
  }
  pairs.sort((one, other) => one[1] - other[1]);
  // longest rising subsequence of the indices in `before`
  const tails: number[] = [];
  const previous: (number | null)[] = [];
  for (const [index, [aAt]] of pairs.entries()) {
    let low = 0;
    let high = tails.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((pairs[tails[middle] as number] as [number, number])[0] < aAt) low = middle + 1;
      else high = middle;
    }
    previous.push(low === 0 ? null : (tails[low - 1] as number));
    tails[low] = index;
  }
  const anchors: [number, number][] = [];
  for (let index = tails.at(-1) ?? null; index !== null; index = previous[index] ?? null) {
    anchors.push(pairs[index] as [number, number]);
  }
  return anchors.reverse();
}
