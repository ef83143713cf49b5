import { adviceOfPassage, DRILL_WORDS } from '../../parts/index.ts';
import type { Drill } from './drill.ts';

/**
 * What to listen for in a drill, in English: what its kind says, and what is out of the ordinary over one of its chords. Named once, as
 * the first key has it: the other keys do the same.
 */
export function listenForOf({ order, keys }: Drill): readonly string[] {
  const advice = (keys[0]?.passages ?? []).flatMap(({ label }) => adviceOfPassage(label) ?? []);
  return [...DRILL_WORDS[order.kind].listenFor, ...new Set(advice)];
}
