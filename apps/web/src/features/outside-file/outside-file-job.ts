import type { Job } from '../../platform/workers/index.ts';
import type { FileKind } from './file-kind.ts';
import { readContent, type FileContent } from './read-content.ts';

/** A file's bytes, and what they seem to be. */
export interface OutsideFileOrder {
  readonly bytes: Uint8Array;
  readonly kind: FileKind;
}

/** Reads a file from outside, away from the page: what it does to its reader, it does not do to what is being typed. */
export const outsideFileJob: Job<OutsideFileOrder, FileContent> = async ({ bytes, kind }) => ({
  value: await readContent(bytes, kind),
});
