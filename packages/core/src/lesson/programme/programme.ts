import type { VoicingStyle } from '../../parts/index.ts';
import type { SetUp, SwingSource, TrioPlayer } from '../../performance/index.ts';
import { pitchClass, pitchClassOf, usualKey, type Key } from '../../theory/index.ts';
import type { PracticeAids } from './aids.ts';

/** One time through the tune: a row of the teacher's table. */
export interface ProgrammeChorus {
  readonly key: Key;
  /** Beats a minute of the metre. */
  readonly tempoBpm: number;
  readonly players: readonly TrioPlayer[];
}

/** What is played, chorus after chorus. Plain data: a teacher edits and keeps it. */
export interface Programme {
  readonly setUp: SetUp;
  readonly swing: SwingSource;
  /** What the left hand comps with. */
  readonly voicings: VoicingStyle;
  /** Bars of sticks before the first chorus and before each change of tempo. */
  readonly countInBars: number;
  /** What stands beside the trio for who practises. */
  readonly aids: PracticeAids;
  readonly choruses: readonly ProgrammeChorus[];
}

/** Bounds of a programme: beyond them it is a slip of the pen, or more than a file holds. */
export const SLOWEST_BPM = 20;
export const FASTEST_BPM = 400;
export const MOST_COUNT_IN_BARS = 8;
export const MOST_PROGRAMME_CHORUSES = 1200;

/** Ways round the twelve keys, by semitones from one to the next. Common practice. */
const CYCLES = {
  fourths: 5,
  fifths: 7,
  'half steps up': 1,
  'half steps down': 11,
  'whole steps up': 2,
  'minor thirds up': 3,
  'major thirds up': 4,
} as const;
export type KeyCycle = keyof typeof CYCLES;
export const KEY_CYCLES = Object.keys(CYCLES) as readonly KeyCycle[];

/**
 * The keys along a cycle from one on, until it closes: twelve, six by whole steps, four or three by thirds. The first is written as it is given, the
 * others as usual.
 * @example keysAlong(parseKey('Eb major')!, 'fourths').map(formatKey) // → ['Eb major', 'Ab major', 'Db major', …]
 */
export function keysAlong(first: Key, cycle: KeyCycle): readonly Key[] {
  const keys: Key[] = [first];
  for (;;) {
    const next = pitchClass(pitchClassOf(first.tonic) + keys.length * CYCLES[cycle]);
    if (next === pitchClassOf(first.tonic)) return keys;
    keys.push(usualKey(next, first.mode));
  }
}

/**
 * Every tempo in turn, every key in it, some choruses in each.
 * @throws RangeError where there is nothing to play
 * @example inTurn({ keys: keysAlong(key, 'fourths'), tempi: [90], choruses: 3, players: ['bass', 'drums'] }).length // → 36
 */
export function inTurn({
  keys,
  tempi,
  choruses,
  players,
}: {
  readonly keys: readonly Key[];
  readonly tempi: readonly number[];
  readonly choruses: number;
  readonly players: readonly TrioPlayer[];
}): readonly ProgrammeChorus[] {
  if (keys.length === 0 || tempi.length === 0 || !Number.isInteger(choruses) || choruses < 1 || players.length === 0) {
    throw new RangeError('keys, tempi, choruses and players must each be there');
  }
  return tempi.flatMap((tempoBpm) =>
    keys.flatMap((key) => Array.from({ length: choruses }, () => ({ key, tempoBpm, players }))),
  );
}
