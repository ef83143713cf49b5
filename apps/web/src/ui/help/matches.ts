import type { Explained } from '../words/help.ts';

/** Plain letters: without accents, signs and case, so that 'ii-v' finds 'ii–V–I'. */
const plain = (text: string): string =>
  text.normalize('NFD').replaceAll(/\p{M}/gu, '').replaceAll(/[–—-]/gu, '-').toLowerCase();

/**
 * Whether every piece of what is looked for stands in a word or its explanation.
 * @example matches({ word: 'avoid note', says: 'It rubs.', screens: [] }, 'AVOID rub') // → true
 */
export function matches({ word, says }: Explained, sought: string): boolean {
  const text = plain(`${word} ${says}`);
  return plain(sought)
    .split(/\s+/u)
    .every((piece) => text.includes(piece));
}
