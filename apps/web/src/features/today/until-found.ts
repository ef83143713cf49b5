/** Until found: time stands until the hand has found a position: its five keys in any order, the left hand's root too where wished. */

/** What is looked for over one chord. */
export interface Sought {
  /** Semitones of the fingers above the thumb. */
  readonly steps: readonly number[];
  /** Pitch classes. */
  readonly thumb: number;
  readonly root: number | null;
}

export interface Search {
  readonly sought: readonly Sought[];
  /** Which of them is looked for now; as many as there are when all are found. */
  readonly at: number;
  /** Keys struck since the last was found. */
  readonly struck: readonly number[];
  readonly withLeftHand: boolean;
}

export function newSearch(sought: readonly Sought[], withLeftHand: boolean): Search {
  return { sought, at: 0, struck: [], withLeftHand };
}

/** The lowest key of a piano, and its highest: every octave is looked at. */
const KEYS = { lowest: 21, highest: 108 };

/** The thumb's key of the octave in which all five are struck; null while there is none. */
export function octaveFound({ steps, thumb }: Sought, struck: readonly number[]): number | null {
  const keys = new Set(struck);
  for (let key = KEYS.lowest; key <= KEYS.highest; key++) {
    if (key % 12 === thumb && steps.every((step) => keys.has(key + step))) return key;
  }
  return null;
}

/** Whether the left hand has the chord's root, below the thumb. */
function hasRoot({ root }: Sought, struck: readonly number[], thumbKey: number): boolean {
  return root === null || struck.some((key) => key % 12 === root && key < thumbKey);
}

/** A key is struck: the next is looked for once this one is found. Keys beside it cost nothing; time stands. */
export function seek(search: Search, key: number): Search {
  const now = search.sought[search.at];
  if (now === undefined) return search;
  const struck = [...search.struck.filter((each) => each !== key), key];
  const thumbKey = octaveFound(now, struck);
  const isFound = thumbKey !== null && (!search.withLeftHand || hasRoot(now, struck, thumbKey));
  return isFound ? { ...search, at: search.at + 1, struck: [] } : { ...search, struck };
}

export function isAllFound({ at, sought }: Search): boolean {
  return at >= sought.length;
}
