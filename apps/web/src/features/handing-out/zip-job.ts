import { zipSync } from 'fflate';
import type { Job } from '../../platform/workers/index.ts';

/** A file of a zip: its path there, with forward slashes. */
export interface ZipEntry {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** Stands on every file of a zip, in local time as the format has it: same lesson, same bytes. The day says nothing. */
const FIXED_DATE = '2000-01-01T00:00:00';

/** Packs files into one. What is packed already (PDF) is put in as it is. */
export const zipJob: Job<readonly ZipEntry[], Uint8Array> = async (entries) => {
  const bytes = zipSync(
    Object.fromEntries(
      entries.map(({ path, bytes: content }) => [
        path,
        [content, { level: path.endsWith('.pdf') ? 0 : 6, mtime: FIXED_DATE }],
      ]),
    ),
  );
  return { value: bytes, transfer: [bytes.buffer] };
};
