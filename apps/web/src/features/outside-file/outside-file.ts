import { runJob } from '../../platform/workers/index.ts';
import { HEAD_BYTES, kindOf, LARGEST_BYTES, type FileKind } from './file-kind.ts';
import type { OutsideFileOrder } from './outside-file-job.ts';
import type { FileContent } from './read-content.ts';

/** The longest a file may take to be read. */
const LIMIT_MS = 30_000;

/** What became of a file from outside. */
export type OutsideFile =
  | FileContent
  | { readonly kind: 'too large'; readonly fileKind: FileKind; readonly limitBytes: number }
  // it was moved or deleted since it was chosen, or is a folder
  | { readonly kind: 'unreadable' }
  | { readonly kind: 'too slow'; readonly limitSeconds: number }
  | { readonly kind: 'failed'; readonly message: string };

/** What file choosers offer; any other file may be dropped too, its content says what it is. */
export const ACCEPTED_FILES = '.musicxml,.xml,.mxl,.json,.chart,.txt';

/** Reads a file from outside. Its size is looked at before it is read; it is read in a worker, within a time. */
export async function readOutsideFile(file: File): Promise<OutsideFile> {
  let kind: FileKind;
  let bytes: Uint8Array;
  try {
    kind = kindOf(new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer()));
    const limitBytes = LARGEST_BYTES[kind];
    if (file.size > limitBytes) return { kind: 'too large', fileKind: kind, limitBytes };
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    return { kind: 'unreadable' };
  }
  try {
    return await runJob<OutsideFileOrder, FileContent>('read file', { bytes, kind }, { limitMs: LIMIT_MS });
  } catch (error) {
    if (error instanceof DOMException && error.name === 'TimeoutError') {
      return { kind: 'too slow', limitSeconds: LIMIT_MS / 1000 };
    }
    return { kind: 'failed', message: error instanceof Error ? error.message : String(error) };
  }
}
