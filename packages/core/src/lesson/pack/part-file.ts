import type { InstrumentKey } from '../../chart/index.ts';

/** Who a part is written for: an instrument by the key it is in, or one that reads bass clef at concert pitch. */
export type PartReader = InstrumentKey | 'bass-clef';

/** Every reader, the most usual first. */
export const PART_READERS = ['Bb', 'Eb', 'F', 'bass-clef', 'C', 'A', 'G'] as const satisfies readonly PartReader[];

/** The kinds of file a part has: a page to read from and a lead sheet for a notation program. */
export const PART_ENDINGS = ['pdf', 'musicxml'] as const;
export type PartFileName = `part-${string}.${(typeof PART_ENDINGS)[number]}`;

/**
 * A part's file, named so that every system and address takes it.
 * @example partFileName('Bb', 'pdf') // → 'part-B-flat.pdf'
 */
export function partFileName(reader: PartReader, ending: (typeof PART_ENDINGS)[number]): PartFileName {
  return `part-${reader.replace(/^([BE])b$/u, '$1-flat')}.${ending}`;
}

/** Who a part's file is for; undefined where it is no part's. */
export function readerOfFile(file: string): PartReader | undefined {
  return PART_READERS.find((reader) => PART_ENDINGS.some((ending) => partFileName(reader, ending) === file));
}
