import { formatKey, type Chart, type Key } from '@fivespan/core';
import { atom } from 'nanostores';
import { noteMishap } from '../../platform/diagnostics/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import { $made } from '../open-lesson/index.ts';
import { writeHeading } from './commands.ts';

/** Keys the chords leave open, where the chart states none: the one found, then those as good or nearly so. */
export interface OpenKey {
  readonly found: Key;
  readonly others: readonly Key[];
}

/** Null where the key is stated or plain, and until it is known. */
export const $openKey = atom<OpenKey | null>(null);

/** Looks, as long as it is wanted, whether the chords leave the key open. @returns stops looking */
export function watchOpenKey(): () => void {
  let asking: AbortController | undefined;
  let asked: Chart | undefined;
  const stop = $made.subscribe((made) => {
    const chart = made?.chart;
    if (chart === asked) return;
    asked = chart;
    asking?.abort(new DOMException('another chart', 'AbortError'));
    if (made === null || chart === undefined || chart.key !== null) {
      $openKey.set(null);
      return;
    }
    const own = (asking = new AbortController());
    const found = made.lesson.writtenKey;
    runJob<Chart, readonly Key[]>('open key', chart, { urgency: 'soon', signal: own.signal }).then(
      (keys) => {
        if (asking !== own) return;
        const others = keys.filter((key) => formatKey(key) !== formatKey(found));
        $openKey.set(others.length === 0 ? null : { found, others });
      },
      (error: unknown) => {
        if (!own.signal.aborted) noteMishap(error);
      },
    );
  });
  return () => {
    stop();
    asking?.abort(new DOMException('the screen is left', 'AbortError'));
    $openKey.set(null);
  };
}

/** Settles the key: the chart states it from now on. */
export function settleKey(key: Key): void {
  writeHeading('key', formatKey(key));
}
