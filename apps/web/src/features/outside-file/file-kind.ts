import { LONGEST_CHART_CHARACTERS, LONGEST_DOCUMENT_CHARACTERS } from '@fivespan/core';
import { LARGEST_BACKUP_BYTES } from '../backup/backup-document.ts';

/** What a file from outside seems to be, by its first bytes. */
export type FileKind = 'lead sheet' | 'backup' | 'lesson' | 'chart';

/** How many first bytes are looked at. */
export const HEAD_BYTES = 512;

/** Of a character in UTF-8 (RFC 3629, section 3). */
const MOST_CHARACTER_BYTES = 4;

/** The largest file of each kind that is read at all. Characters are counted once more when it has been read. */
export const LARGEST_BYTES: Readonly<Record<FileKind, number>> = {
  'lead sheet': 20_000_000,
  backup: LARGEST_BACKUP_BYTES,
  lesson: LONGEST_DOCUMENT_CHARACTERS * MOST_CHARACTER_BYTES,
  chart: LONGEST_CHART_CHARACTERS * MOST_CHARACTER_BYTES,
};

/** The first bytes as signs: of UTF-16 with the mark of its order of bytes the text, else a sign a byte. */
function startOf(head: Uint8Array): string {
  const [first, second] = head;
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(head);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(head);
  return new TextDecoder('latin1').decode(head).replace(/^\u00ef\u00bb\u00bf/u, '');
}

/** What a file seems to be: its content says, not its name. Same signs as the command line goes by. */
export function kindOf(head: Uint8Array): FileKind {
  const start = startOf(head);
  if (start.startsWith('PK') || /^\s*<[?!a-z]/iu.test(start)) return 'lead sheet';
  if (!/^\s*\{/u.test(start)) return 'chart';
  return /"kind"\s*:\s*"fivespan backup"/u.test(start) ? 'backup' : 'lesson';
}
