import { cutText } from '../../plain-text.ts';
import { formatKey, type Key } from '../../theory/index.ts';

const LONGEST_FOLDER = 60;

/** A key as a folder's name that every system and address takes: `E-flat-major`, `F-sharp-minor`. */
export function folderOfKey(key: Key): string {
  return formatKey(key)
    .replace(/^([A-G])b/u, '$1-flat')
    .replace('#', '-sharp')
    .replace(' ', '-');
}

/** A title as a folder's name: letters and digits of any script, joined by hyphens; 'lesson' where none are left. */
export function folderOfTitle(title: string): string {
  const words = title
    .normalize('NFC')
    .toLowerCase()
    .match(/[\p{L}\p{N}]+/gu);
  return words === null ? 'lesson' : cutText(words.join('-'), LONGEST_FOLDER);
}
