import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The folder of the open data, which need not be there. */
export const OPEN_DATA = join(
  process.env['FIVESPAN_OPEN_DATA'] ?? join(import.meta.dirname, '..', '..', 'shared'),
  'data',
);

/** The text of a file of the open data, or null where it is not on this machine. */
export function openDataText(...path: readonly string[]): string | null {
  const file = join(OPEN_DATA, ...path);
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

/** A file of one JSON value a line. */
export function openDataLines(...path: readonly string[]): readonly unknown[] | null {
  const text = openDataText(...path);
  return text === null
    ? null
    : text
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line) as unknown);
}
