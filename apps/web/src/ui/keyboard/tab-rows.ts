import { midi, noteName, type Midi } from '@fivespan/core';
import { layOutKeyboard, placeTabs, tabRowsOf } from '@fivespan/formats/diagram';

/** Any name: where a tab hangs does not depend on it. */
const SOMETHING = noteName('C');

const ALL_KEYS = new Map(layOutKeyboard(midi(21), midi(108)).keys.map((key) => [key.midi, key]));

/**
 * How many rows of tabs a way of the hand needs, so that the thumb now never covers the next one: two where two of its thumbs are
 * neighbours, or where the hand changes its shape over one key.
 * @param thumbs the keys under the thumb on the way, in any order
 */
export function rowsForTabs(thumbs: readonly Midi[], changesShape = false): 1 | 2 {
  if (changesShape) return 2;
  const keys = [...new Set(thumbs)].sort((a, b) => a - b);
  const isTight = keys.some((key, index) => {
    const above = keys[index + 1];
    if (above === undefined) return false;
    const marks = [key, above].map((each) => ({
      midi: each,
      name: SOMETHING,
      mark: '',
      kind: each === key ? ('now' as const) : ('next' as const),
    }));
    return tabRowsOf(placeTabs(marks, ALL_KEYS)) > 1;
  });
  return isTight ? 2 : 1;
}
