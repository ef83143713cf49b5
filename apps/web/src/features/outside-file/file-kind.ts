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

/** What a file seems to be: its content says, not its name. Same signs as the command line goes by. */
export function kindOf(head: Uint8Array): FileKind {
  const start = new TextDecoder('latin1').decode(head);
  if (
    start.startsWith('PK') ||
    /^\u00ef?\u00bb?\u00bf?\s*<[?!a-z]/iu.test(start) ||
    /^(?:\u00ff\u00fe|\u00fe\u00ff)/u.test(start)
  ) {
    return 'lead sheet';
  }
  if (!/^\u00ef?\u00bb?\u00bf?\s*\{/u.test(start)) return 'chart';
  return /"kind"\s*:\s*"fivespan backup"/u.test(start) ? 'backup' : 'lesson';
}
