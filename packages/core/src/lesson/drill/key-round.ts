import { randomSource } from '../../random.ts';
import { formatKey, pitchClass, pitchClassOf, usualKey, usualKeys, type Key } from '../../theory/index.ts';
import { KEY_CYCLES, keysAlong, type KeyCycle } from '../programme/programme.ts';

/** Ways round all twelve keys: the cycles, or an order that nobody foresees. */
export type KeyRound = KeyCycle | 'random';
export const KEY_ROUNDS: readonly KeyRound[] = [...KEY_CYCLES, 'random'];

/** A cycle that closes before the twelve keys are through goes on a half step higher than it began, until they are. */
function ringAfterRing(first: Key, cycle: KeyCycle): Key[] {
  const keys: Key[] = [];
  for (let start = first; keys.length < 12;) {
    keys.push(...keysAlong(start, cycle));
    start = usualKey(pitchClass(pitchClassOf(start.tonic) + 1), first.mode);
  }
  return keys;
}

/** The eleven others in an order drawn by the seed. */
function drawn(first: Key, seed: number): Key[] {
  const random = randomSource(seed, 'keys of a drill');
  const left = usualKeys(first.mode).filter(({ tonic }) => pitchClassOf(tonic) !== pitchClassOf(first.tonic));
  const keys = [first];
  while (left.length > 0) keys.push(...left.splice(random.integer(left.length), 1));
  return keys;
}

/**
 * All twelve keys, each once, from home: after the last comes home again. By thirds and whole steps one ring after the other, each a half step higher.
 * @param seed draws the order where it is random
 * @example keysRound(parseKey('C major')!, 'major thirds up', 1).slice(0, 4).map(formatKey) // → ['C major', 'E major', 'Ab major', 'Db major']
 */
export function keysRound(home: Key, round: KeyRound, seed: number): readonly Key[] {
  const keys = round === 'random' ? drawn(home, seed) : ringAfterRing(home, round);
  return keys.filter((key, index) => keys.findIndex((each) => formatKey(each) === formatKey(key)) === index);
}
