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
  readonly keys: ReadonlySet<number>;
}

function chordsOf(written: readonly WrittenStroke[]): Chord[] {
  const chords: { at: number; keys: Set<number> }[] = [];
  for (const { at, key } of written.toSorted((a, b) => a.at - b.at)) {
    const last = chords.at(-1);
    if (last !== undefined && last.at === at) last.keys.add(key);
    else chords.push({ at, keys: new Set([key]) });
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
  const came = chords.map(() => new Uint8Array(width));
  let row = new Float64Array(width).fill(Number.POSITIVE_INFINITY);
  let before = new Float64Array(width);
  for (const [i, chord] of chords.entries()) {
    const first = firstOf(i);
    const firstBefore = firstOf(Math.max(0, i - 1));
    [row, before] = [before, row];
    const ways = came[i] as Uint8Array;
    // nearly every chord of a line is one key
    const [only = -1] = chord.keys.size === 1 ? chord.keys : [];
    const opening = i === 0 ? 0 : COST.skippedChord + Math.min(4, chord.keys.size);
    for (let column = 0; column < width; column++) {
      const j = first + column;
      // a chord is opened: what it costs is paid back by its first note
      const columnBefore = j - firstBefore;
      let cost =
        i === 0
          ? j === 0
            ? 0
            : Number.POSITIVE_INFINITY
          : columnBefore >= 0 && columnBefore < width
            ? (before[columnBefore] as number) + opening
            : Number.POSITIVE_INFINITY;
      let way = 0;
      if (column > 0) {
        const left = row[column - 1] as number;
        const { key } = played[j - 1] as PlayedStroke;
        const isIn = only >= 0 ? key === only : chord.keys.has(key);
        const joined = left + (isIn ? -COST.missed : COST.extra);
        if (joined < cost) {
          cost = joined;
          way = isIn ? 2 : 1;
        }
      }
      row[column] = cost;
      ways[column] = way;
    }
  }
  const home: (number | null)[] = played.map(() => null);
  let i = chords.length - 1;
  let j = played.length;
  while (i >= 0 && j > 0) {
    const way = came[i]?.[j - firstOf(i)] ?? 1;
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
    const sorted = times.toSorted((a, b) => a - b);
    const middle = sorted[Math.floor((sorted.length - 1) / 2)];
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

/** Pairs strokes of one key with their expected times, in order, as close as can be. */
function pair(
  expected: readonly { readonly written: number; readonly time: number }[],
  struck: readonly { readonly played: number; readonly time: number }[],
): { readonly written: number; readonly played: number }[] {
  const alone = FURTHEST_SECONDS / 2;
  const columns = struck.length + 1;
  const costs = new Float64Array((expected.length + 1) * columns);
  for (let i = 0; i <= expected.length; i++) {
    for (let j = 0; j <= struck.length; j++) {
      if (i === 0 || j === 0) costs[i * columns + j] = (i + j) * alone;
      else {
        const apart = Math.abs((expected[i - 1] as { time: number }).time - (struck[j - 1] as { time: number }).time);
        costs[i * columns + j] = Math.min(
          (costs[(i - 1) * columns + j] as number) + alone,
          (costs[i * columns + j - 1] as number) + alone,
          (costs[(i - 1) * columns + j - 1] as number) + apart,
        );
      }
    }
  }
  const pairs: { readonly written: number; readonly played: number }[] = [];
  let i = expected.length;
  let j = struck.length;
  while (i > 0 && j > 0) {
    const here = costs[i * columns + j] as number;
    if (here === (costs[(i - 1) * columns + j] as number) + alone) i--;
    else if (here === (costs[i * columns + j - 1] as number) + alone) j--;
    else {
      i--;
      j--;
      pairs.push({
        written: (expected[i] as { written: number }).written,
        played: (struck[j] as { played: number }).played,
      });
    }
  }
  return pairs.reverse();
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
  const expected = new Map<number, { readonly written: number; readonly time: number }[]>();
  for (const [index, { key, at }] of written.entries()) {
    const own = expected.get(key) ?? [];
    own.push({ written: index, time: timeAt.get(at) as number });
    expected.set(key, own);
  }
  const struck = new Map<number, { readonly played: number; readonly time: number }[]>();
  for (const [index, { key, startSeconds }] of played.entries()) {
    const own = struck.get(key) ?? [];
    own.push({ played: index, time: startSeconds });
    struck.set(key, own);
  }
  const matched = [...expected].flatMap(([key, own]) =>
    pair(
      own.sort((a, b) => a.time - b.time),
      struck.get(key) ?? [],
    ),
  );
  matched.sort((a, b) => a.written - b.written);
  const [found, used] = [new Set(matched.map((each) => each.written)), new Set(matched.map((each) => each.played))];
  return {
    matched,
    missed: written.flatMap((_, index) => (found.has(index) ? [] : [index])),
    extra: played.flatMap((_, index) => (used.has(index) ? [] : [index])),
  };
}
