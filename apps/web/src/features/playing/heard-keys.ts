/** What the keys that are down are to the chord: inside what the hand may play, outside, or a note that must not stay and does. */
import { atom } from 'nanostores';
import { $pressed } from '../sound/index.ts';
import type { FormFamily } from './form-view.ts';
import { $moment } from './playing.ts';

/** A key that is down. */
export interface HeardKey {
  readonly midi: number;
  /** Beats that have begun since it went down, or since the chord came. */
  readonly beats: number;
}

export type KeySign = 'inside' | 'outside' | 'stays';

/** A note may pass: it stays when a whole beat has gone by, so when the second one begins. */
const BEATS_TO_STAY = 2;

const holds = (set: number, key: number): boolean => (set & (1 << (key % 12))) !== 0;

/**
 * What a key is. With several families it is inside where it is in one of them, and must not stay where none of those that hold it lets it.
 * @example signOf({ midi: 65, beats: 2 }, families) // F over Cmaj7 that stays → 'stays'
 */
export function signOf({ midi, beats }: HeardKey, families: readonly FormFamily[]): KeySign {
  const holding = families.filter(({ inside }) => holds(inside, midi));
  const avoiding = families.filter(({ avoid }) => holds(avoid, midi));
  const mustGo = avoiding.length > 0 && holding.every((each) => avoiding.includes(each));
  if (mustGo && beats >= BEATS_TO_STAY) return 'stays';
  return holding.length > 0 ? 'inside' : 'outside';
}

/** Keys that are down, with what they are. */
export const $heardKeys = atom<readonly (HeardKey & { readonly sign: KeySign })[]>([]);

/** Follows the keys from now on. @returns how to stop */
export function followKeys(): () => void {
  let down = new Map<number, number>();
  let momentId = $moment.get()?.id;
  const tell = (): void => {
    const families = $moment.get()?.families ?? [];
    const keys = [...down].map(([midi, beats]) => ({ midi, beats, sign: signOf({ midi, beats }, families) }));
    if (keys.length > 0 || $heardKeys.get().length > 0) $heardKeys.set(keys);
  };
  const ends = [
    $pressed.subscribe((pressed) => {
      down = new Map([...pressed].map((midi) => [midi, down.get(midi) ?? 0]));
      tell();
    }),
    $moment.subscribe((moment) => {
      if (moment?.id === momentId) return;
      momentId = moment?.id;
      down = new Map([...down].map(([midi, beats]) => [midi, beats + 1]));
      tell();
    }),
  ];
  return () => {
    for (const end of ends) end();
    $heardKeys.set([]);
  };
}
