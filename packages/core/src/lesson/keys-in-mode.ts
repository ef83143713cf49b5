import type { Chart } from '../chart/index.ts';
import type { Issue } from '../issue/index.ts';
import { formatKey, pitchClassOf, signatureOf, usualKey, type Key } from '../theory/index.ts';
import type { Choices } from './lesson.ts';

/** A key signature holds seven accidentals at most. */
const MOST_ACCIDENTALS = 7;

/** The key on the same tonic in a mode; where that cannot be written, the usual one that sounds the same. */
function inMode(key: Key, mode: Key['mode']): Key {
  if (key.mode === mode) return key;
  const exact: Key = { tonic: key.tonic, mode };
  return Math.abs(signatureOf(exact)) <= MOST_ACCIDENTALS ? exact : usualKey(pitchClassOf(key.tonic), mode);
}

/**
 * The key a lesson is shown in, as far as it is stated: the one chosen, in the chart's own mode, else the chart's. Null where the
 * analysis is to find it.
 */
export function shownKey(chart: Pick<Chart, 'key'>, { shownIn }: Pick<Choices, 'shownIn'>): Key | null {
  return shownIn === null ? chart.key : inMode(shownIn, chart.key?.mode ?? shownIn.mode);
}

/**
 * Choices kept with a tune, their keys in the tune's mode: F major asked for a tune in F minor cannot be had, F minor is meant.
 * @param mode the tune's own
 * @returns the choices, the same object where nothing was to be mended, and a warning for each key that was
 */
export function keysInMode(
  choices: Choices,
  mode: Key['mode'],
): { readonly choices: Choices; readonly warnings: readonly Issue[] } {
  const mended = new Map<string, Key>();
  const mend = (key: Key): Key => {
    if (key.mode === mode) return key;
    const taken = inMode(key, mode);
    mended.set(formatKey(key), taken);
    return taken;
  };
  const keys = choices.keys
    .map(mend)
    .filter((key, index, all) => all.findIndex((other) => formatKey(other) === formatKey(key)) === index);
  const shownIn = choices.shownIn === null ? null : mend(choices.shownIn);
  const programme =
    choices.programme === null
      ? null
      : {
          ...choices.programme,
          choruses: choices.programme.choruses.map((chorus) => ({ ...chorus, key: mend(chorus.key) })),
        };
  const warnings = [...mended].map(([asked, taken]): Issue => ({
    code: 'lesson.key-mode',
    args: { asked, mode, taken: formatKey(taken) },
    place: {},
  }));
  return mended.size === 0 ? { choices, warnings } : { choices: { ...choices, shownIn, keys, programme }, warnings };
}
