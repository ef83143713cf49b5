/** The tabs of a free hand, out of the families that a chord allows: for whoever puts a stage's content together. */
import { freeThumbs, isSameThumb, midi, type AllowedFamily, type FreeThumb } from '@fivespan/core';
import type { ThumbText } from '../words/thumb-name.ts';
import type { StageTab } from './stage-content.ts';

/** A family, and the sign behind its thumbs' names. */
export interface MarkedFamily extends Pick<AllowedFamily, 'which' | 'positions'> {
  readonly mark: string;
}

/** The keys of a piano: what a picture has no room for is left out where it is drawn. */
const PIANO = { lowest: midi(21), highest: midi(108) };

/** Every thumb of the families on all keys. */
export function thumbsOf(families: readonly MarkedFamily[]): readonly FreeThumb[] {
  return freeThumbs(families, PIANO);
}

/**
 * Tabs of families on all keys; the one the hand was found at is filled.
 * @param shown.place where the hand was found; null where it was not
 */
export function freeTabs(
  families: readonly MarkedFamily[],
  thumb: ThumbText,
  shown: { readonly isComing: boolean; readonly place: FreeThumb | null },
): readonly StageTab[] {
  return thumbsOf(families).map((each): StageTab => {
    const mark = families.find(({ which }) => which === each.which)?.mark ?? '';
    const isHere = shown.place !== null && isSameThumb(shown.place, each);
    return {
      midi: each.thumbMidi,
      name: thumb.printed(each.position.thumb, mark),
      role: shown.isComing ? 'next' : isHere ? 'now' : 'may',
      ...(each.which === 'second' ? { isSecond: true } : {}),
    };
  });
}

/** Names of a family's thumbs in its order, each once. */
export function namesOf({ positions, mark }: MarkedFamily, nameOf: ThumbText['printed']): string[] {
  return positions.map(({ thumb }) => nameOf(thumb, mark));
}
