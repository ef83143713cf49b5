/** Where a free hand is: found by the keys that are struck, or by the tab that is touched. */
import {
  foundAfterChange,
  freeThumbs,
  isSameFreedom,
  midi,
  NOWHERE_FOUND,
  strike,
  type HandFound,
} from '@fivespan/core';
import { atom } from 'nanostores';
import { onStrike } from '../sound/index.ts';
import type { FormFamily } from './form-view.ts';
import { $moment } from './playing.ts';

const PIANO = { lowest: midi(21), highest: midi(108) };

export const $found = atom<HandFound>(NOWHERE_FOUND);

/** Follows the hand from now on. @returns how to stop */
export function followHand(): () => void {
  let families: readonly FormFamily[] = [];
  const ends = [
    $moment.subscribe((moment) => {
      const now = moment?.families ?? [];
      if (isSameFreedom(now, families)) return;
      families = now;
      $found.set(foundAfterChange($found.get(), freeThumbs(families, PIANO)));
    }),
    onStrike((key) => $found.set(strike($found.get(), midi(key), freeThumbs(families, PIANO)))),
  ];
  return () => {
    for (const end of ends) end();
    $found.set(NOWHERE_FOUND);
  };
}

/** A tab is touched: the hand is there. */
export function touchThumb(thumbMidi: number, which: FormFamily['which']): void {
  const places = freeThumbs($moment.get()?.families ?? [], PIANO);
  const place = places.find((each) => each.thumbMidi === thumbMidi && each.which === which);
  if (place !== undefined) $found.set({ place, struck: [] });
}
