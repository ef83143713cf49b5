/**
 * Played notes against written ones. Two steps: the order of the written chords is followed through the played notes by
 * dynamic programming over pitches (matched, missed, extra), which gives each written place its time; then, key by key, the
 * written and the played strokes of that key are paired so that they lie closest to those times. After the idea of Peter and
 * others (parangonar: a coarse alignment in time, then pitch by pitch; from memory). Not for improvisations.
 */

/** A written note: where in the music (any unit that grows with time) and which key. */
export interface WrittenStroke {
  readonly at: number;
  readonly key: number;
}

/** A played note. */
export interface PlayedStroke {
  readonly startSeconds: number;
  readonly key: number;
}

/** Indices into what was written and what was played. */
export interface Alignment {
  readonly matched: readonly { readonly written: number; readonly played: number }[];
  readonly missed: readonly number[];
  readonly extra: readonly number[];
}

/** What a played note that belongs nowhere costs, a chord none of whose notes was heard, and each of its notes not heard. */
const COST = { extra: 10, skippedChord: 2, missed: 8 } as const;

/** A stroke this far from its time is another one. */
const FURTHEST_SECONDS = 2.5;

/** How far the played notes may run ahead of the written chords, in notes, where nothing else is said. */
const BAND = 400;

interface Chord {
  readonly at: number;
  /** Each once. */
  readonly keys: readonly number[];
}

function chordsOf(written: readonly WrittenStroke[]): Chord[] {
  const chords: { at: number; keys: number[] }[] = [];
  const isInOrder = written.every(({ at }, index) => index === 0 || at >= (written[index - 1] as WrittenStroke).at);
  for (const { at, key } of isInOrder ? written : written.toSorted((a, b) => a.at - b.at)) {
    const last = chords.at(-1);
    if (last === undefined || last.at !== at) chords.push({ at, keys: [key] });
    else if (!last.keys.includes(key)) last.keys.push(key);
  }
  return chords;
}

/** For each played note the chord it belongs to, null where it belongs to none: the cheapest order-keeping way. */
function follow(chords: readonly Chord[], played: readonly PlayedStroke[], band: number): (number | null)[] {
  const width = Math.min(played.length + 1, 2 * band + 1);
  const perChord = played.length / Math.max(1, chords.length);
  const firstOf = (chord: number): number =>
    Math.max(0, Math.min(played.length + 1 - width, Math.round(chord * perChord) - band));
  // cost with chords 0 … i open and notes 0 … j taken; what each came by: 0 next chord, 1 extra, 2 in the chord
  const came = new Uint8Array(chords.length * width);
  const keys = Int16Array.from(played, ({ key }) => key);
  let row = new Float64Array(width).fill(Number.POSITIVE_INFINITY);
  let before = new Float64Array(width);
  for (const [i, chord] of chords.entries()) {
    const first = firstOf(i);
    const firstBefore = firstOf(Math.max(0, i - 1));
    [row, before] = [before, row];
    const base = i * width;
    // nearly every chord of a line is one key
    const only = chord.keys.length === 1 ? (chord.keys[0] as number) : -1;
    const opening = COST.skippedChord + Math.min(4, chord.keys.length);
    const shift = first - firstBefore;
    // where the chord before had a cost, too
    const [from, to] = [Math.max(0, -shift), Math.min(width, width - shift)];
    let left = Number.POSITIVE_INFINITY;
    let wayLeft = 0;
    for (let column = 0; column < width; column++) {
      // a chord is opened: what it costs is paid back by its first note
      let cost = Number.POSITIVE_INFINITY;
      if (i === 0) {
        if (first + column === 0) cost = 0;
      } else if (column >= from && column < to) cost = (before[column + shift] as number) + opening;
      let way = 0;
      if (column > 0) {
        const key = keys[first + column - 1] as number;
        // a single key struck again belongs to the next chord that has it: one chord may not take in a whole row of them
        const isIn = only >= 0 ? key === only && wayLeft !== 2 : chord.keys.includes(key);
        const joined = left + (isIn ? -COST.missed : COST.extra);
        if (joined < cost) {
          cost = joined;
          way = isIn ? 2 : 1;
        }
      }
      row[column] = cost;
      left = cost;
      wayLeft = way;
      came[base + column] = way;
    }
  }
  const home: (number | null)[] = played.map(() => null);
  let i = chords.length - 1;
  let j = played.length;
  while (i >= 0 && j > 0) {
    const column = j - firstOf(i);
    const way = column >= 0 && column < width ? (came[i * width + column] as number) : 1;
    if (way === 0) {
      if (i === 0) break;
      i--;
      continue;
    }
    j--;
    if (way === 2) home[j] = i;
  }
  return home;
}

/** The time of each chord: the middle of its notes' where it has some, on a line between its neighbours' elsewhere. */
function timesOf(
  chords: readonly Chord[],
  played: readonly PlayedStroke[],
  home: readonly (number | null)[],
): number[] {
  const heard = chords.map((): number[] => []);
  home.forEach((chord, j) => {
    if (chord !== null) heard[chord]?.push((played[j] as PlayedStroke).startSeconds);
  });
  const known = heard.flatMap((times, index) => {
    // in order of time, as the played notes are
    const middle = times[Math.floor((times.length - 1) / 2)];
    return middle === undefined ? [] : [{ index, at: (chords[index] as Chord).at, time: middle }];
  });
  if (known.length === 0) return chords.map(() => played[0]?.startSeconds ?? 0);
  let next = 0;
  return chords.map(({ at }, index) => {
    while (next < known.length - 1 && (known[next] as { index: number }).index < index) next++;
    const high = known[next] as (typeof known)[number];
    if (high.index === index || next === 0) {
      const second = known[1] ?? high;
      const pace = second.at === high.at ? 0 : (second.time - high.time) / (second.at - high.at);
      return high.index === index ? high.time : high.time + (at - high.at) * pace;
    }
    const low = known[next - 1] as (typeof known)[number];
    return low.time + ((high.time - low.time) * (at - low.at)) / (high.at - low.at);
  });
}

/** Strokes of one key: which they are, and when. */
interface Times {
  readonly indices: readonly number[];
  readonly seconds: Float64Array;
}

/** What is left alone costs half as much as a pair that is furthest apart. */
const ALONE = FURTHEST_SECONDS / 2;

/** Pairs are looked for among so many at once: some 2,000 strokes of one key either way, 32 MB. No music has more. */
const MOST_CELLS = 4_000_000;

const stretchOf = ({ indices, seconds }: Times, from: number, to: number): Times => ({
  indices: indices.slice(from, to),
  seconds: seconds.subarray(from, to),
});

type Pairs = { readonly written: number; readonly played: number }[];

/** Pairs strokes of one key with their expected times, in order, as close as can be. */
function pair(expected: Times, struck: Times): Pairs {
  const { length } = expected.seconds;
  if ((length + 1) * (struck.seconds.length + 1) <= MOST_CELLS || length < 2) return pairAll(expected, struck);
  const middle = length >> 1;
  const at = ((expected.seconds[middle - 1] as number) + (expected.seconds[middle] as number)) / 2;
  const before = struck.seconds.findIndex((time) => time >= at);
  const cut = before < 0 ? struck.seconds.length : before;
  return [
    ...pair(stretchOf(expected, 0, middle), stretchOf(struck, 0, cut)),
    ...pair(stretchOf(expected, middle, length), stretchOf(struck, cut, struck.seconds.length)),
  ];
}

function pairAll(expected: Times, struck: Times): Pairs {
  const [rows, columns] = [expected.seconds.length + 1, struck.seconds.length + 1];
  const costs = new Float64Array(rows * columns);
  for (let j = 1; j < columns; j++) costs[j] = j * ALONE;
  for (let i = 1; i < rows; i++) {
    const time = expected.seconds[i - 1] as number;
    const here = i * columns;
    const above = here - columns;
    let left = i * ALONE;
    costs[here] = left;
    for (let j = 1; j < columns; j++) {
      const together = (costs[above + j - 1] as number) + Math.abs(time - (struck.seconds[j - 1] as number));
      const missed = (costs[above + j] as number) + ALONE;
      left += ALONE;
      if (missed < left) left = missed;
      if (together < left) left = together;
      costs[here + j] = left;
    }
  }
  const pairs: Pairs = [];
  let i = rows - 1;
  let j = columns - 1;
  while (i > 0 && j > 0) {
    const here = costs[i * columns + j] as number;
    if (here === (costs[(i - 1) * columns + j] as number) + ALONE) i--;
    else if (here === (costs[i * columns + j - 1] as number) + ALONE) j--;
    else {
      i--;
      j--;
      pairs.push({ written: expected.indices[i] as number, played: struck.indices[j] as number });
    }
  }
  return pairs.reverse();
}

/** Strokes by their keys, each key's in order of time. */
function byKey(keys: readonly { readonly key: number }[], seconds: Float64Array): Map<number, Times> {
  const all = new Map<number, number[]>();
  for (let index = 0; index < keys.length; index++) {
    const { key } = keys[index] as { key: number };
    const own = all.get(key);
    if (own === undefined) all.set(key, [index]);
    else own.push(index);
  }
  const times = new Map<number, Times>();
  for (const [key, indices] of all) {
    indices.sort((a, b) => (seconds[a] as number) - (seconds[b] as number));
    times.set(key, { indices, seconds: Float64Array.from(indices, (index) => seconds[index] as number) });
  }
  return times;
}

/**
 * Aligns a performance with what was to be played.
 * @param written in any order; @param played in order of time
 * @param band how many notes may be put in or left out before it is lost
 * @returns pairs in the order of the written notes; each note once
 * @example align([{ at: 0, key: 60 }, { at: 1, key: 62 }], [{ startSeconds: 3, key: 60 }]).missed // → [1]
 */
export function align(
  written: readonly WrittenStroke[],
  played: readonly PlayedStroke[],
  band: number = BAND,
): Alignment {
  const chords = chordsOf(written);
  const times = timesOf(chords, played, follow(chords, played, band));
  const timeAt = new Map(chords.map(({ at }, index) => [at, times[index] as number]));
  const struck = byKey(
    played,
    Float64Array.from(played, ({ startSeconds }) => startSeconds),
  );
  const expected = byKey(
    written,
    Float64Array.from(written, ({ at }) => timeAt.get(at) as number),
  );
  const playedAs = new Int32Array(written.length).fill(-1);
  const isUsed = new Uint8Array(played.length);
  for (const [key, own] of expected) {
    const heard = struck.get(key);
    if (heard === undefined) continue;
    for (const each of pair(own, heard)) {
      playedAs[each.written] = each.played;
      isUsed[each.played] = 1;
    }
  }
  const [missed, extra]: [number[], number[]] = [[], []];
  const matched: { readonly written: number; readonly played: number }[] = [];
  for (let index = 0; index < written.length; index++) {
    const sound = playedAs[index] as number;
    if (sound < 0) missed.push(index);
    else matched.push({ written: index, played: sound });
  }
  for (let index = 0; index < played.length; index++) if (isUsed[index] === 0) extra.push(index);
  return { matched, missed, extra };
}
