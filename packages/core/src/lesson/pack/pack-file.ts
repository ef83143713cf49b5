import type { Key } from '../../theory/index.ts';
import type { PartFileName } from './part-file.ts';
import { folderOfKey, folderOfTitle } from './folder-name.ts';

/** Both views on one page: made where it is asked for. */
export const SHEET_FILE = 'sheet.pdf';

/** What a pack may hold of a lesson in one key, in the order it is made: handouts for study, for play, both on one page, notation, MIDI. */
export const PACK_CHOICES = ['study.pdf', 'play.pdf', SHEET_FILE, 'lesson.musicxml', 'lesson.mid'] as const;
export type PackFileName = (typeof PACK_CHOICES)[number];

/** What it holds as a rule. */
export const PACK_FILES: readonly PackFileName[] = PACK_CHOICES.filter((each) => each !== SHEET_FILE);

/** Everything that can be made of a lesson in one key. */
export type LessonFileName = PackFileName | PartFileName;

/** The lesson itself, beside the keys' folders. */
export const LESSON_FILE = 'lesson.json';

/**
 * Where a file of a pack is, with forward slashes: a folder for each key.
 * @example packPath(parseKey('Eb major')!, 'study.pdf') // → 'E-flat-major/study.pdf'
 */
export function packPath(key: Key, file: PackFileName | PartFileName): string {
  return `${folderOfKey(key)}/${file}`;
}

/**
 * A file's name where it may lie among those of other tunes and keys: by itself, or in a zip.
 * @example packFileName('Lantern Street', parseKey('Eb major')!, 'study.pdf') // → 'lantern-street-E-flat-major-study.pdf'
 */
export function packFileName(title: string, key: Key, file: LessonFileName): string {
  return [folderOfTitle(title), folderOfKey(key), file].join('-');
}
