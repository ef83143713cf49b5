import { BASS_KEYS } from '../bass-line.ts';
import type { BassRange } from '../note.ts';
import type { PinnedNote } from './note-pin.ts';

/**
 * A teacher's bass notes in another key, within the range the bass is played in, as a composed bass is: by octaves all together, and
 * what is still outside by itself. What lay outside where it was written stays as it was written.
 * @param written the notes in the key they were written in
 * @param moved the same notes in the other key
 * @example inBassRange([{ onsetTicks: 0, durationTicks: 960, key: 30 }], [{ onsetTicks: 0, durationTicks: 960, key: 27 }], 'left hand')[0]?.key
 * // → 39
 */
export function inBassRange(
  written: readonly PinnedNote[],
  moved: readonly PinnedNote[],
  range: BassRange,
): readonly PinnedNote[] {
  const { lowest, highest } = BASS_KEYS[range];
  const isWithin = (key: number): boolean => key >= lowest && key <= highest;
  const strays = (note: PinnedNote, index: number, by: number): boolean =>
    isWithin(written[index]?.key ?? lowest) && !isWithin(note.key + by);
  const outside = (by: number): number => moved.filter((note, index) => strays(note, index, by)).length;
  const by = [0, 12, -12].toSorted((a, b) => outside(a) - outside(b))[0] as number;
  return moved.map((note, index) => {
    const key = note.key + by;
    return { ...note, key: strays(note, index, by) ? key + (key < lowest ? 12 : -12) : key };
  });
}
