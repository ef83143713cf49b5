import { isPracticalStep, type HandSize } from '../../hand/index.ts';
import { formatPitch, midiOf, type Pitch } from '../../theory/index.ts';
import type { PartNote } from '../note.ts';

/** What a chord that is held does to the line the right hand plays meanwhile. Notes as `C4`, the line's beside the chord's. */
export type VoicingLineFault =
  // the line strikes a key that is held
  | { readonly kind: 'same key'; readonly line: string }
  // the line goes below the left hand's highest key
  | { readonly kind: 'crossing'; readonly line: string; readonly held: string }
  // the right hand holds keys of the chord, and does not reach its line from them
  | { readonly kind: 'line reach'; readonly line: string; readonly held: string };

/**
 * What stands between a teacher's own chord and the line over it, each kind once, at its first note.
 * @param pitches the chord's, ascending
 * @param left how many of them, from the lowest, the left hand holds
 * @param line what sounds while the chord is held
 */
export function voicingLineFaults(
  pitches: readonly Pitch[],
  left: number,
  line: readonly PartNote[],
  hand: HandSize,
): VoicingLineFault[] {
  const keys = pitches.map(midiOf);
  const named = (place: number): string => formatPitch(pitches[place] as Pitch);
  const notes = line.map(({ pitch }) => ({ name: formatPitch(pitch), key: midiOf(pitch) }));
  const faults: VoicingLineFault[] = [];

  const same = notes.find(({ key }) => keys.includes(key));
  if (same !== undefined) faults.push({ kind: 'same key', line: same.name });

  const top = keys[Math.min(left, keys.length) - 1];
  const below = notes.find(({ key }) => top !== undefined && key < top);
  if (below !== undefined) {
    faults.push({ kind: 'crossing', line: below.name, held: named(Math.min(left, keys.length) - 1) });
  }

  const held = keys.flatMap((key, place) => (place < left ? [] : [{ key, place }]));
  for (const { name, key } of notes) {
    const far = held.find((each) => {
      const [low, high] = each.key < key ? [each.key, key] : [key, each.key];
      return low !== high && !isPracticalStep({ key: low, finger: 1 }, { key: high, finger: 5 }, hand);
    });
    if (far === undefined) continue;
    faults.push({ kind: 'line reach', line: name, held: named(far.place) });
    break;
  }
  return faults;
}
