import { stat } from 'node:fs/promises';
import { issueOfFault, shownText, type Chart, type Issue } from '@fivespan/core';
import { UsageError } from './command.ts';
import { Interrupted } from './interrupt.ts';

/** What the system says, for one who never saw its codes. Source of the codes: POSIX, errno.h. */
const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'this user may not write or read there',
  EPERM: 'this user may not write or read there',
  EROFS: 'nothing can be written there: the disk is read-only',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the space on the disk that this user may fill is full',
  EISDIR: 'there is a folder of that name',
  ENOTDIR: 'a part of the path is a file, not a folder',
  EEXIST: 'there is a file of that name',
  ENOTEMPTY: 'there is a folder of that name with something in it',
  ENOENT: 'a part of the path is not there',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'its links lead round in a circle',
  EMFILE: 'too many files are open at once',
  EIO: 'the disk does not answer as it should',
  EBUSY: 'another program holds it',
};

/** Why the system refused a file, in words. */
export function reasonOf(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  return REASONS[code ?? ''] ?? `the system refuses it${code === undefined ? '' : ` (${code})`}`;
}

/** Whether an error comes from the system: a disk, a right, a name. */
export function isFromSystem(error: unknown): boolean {
  return typeof (error as NodeJS.ErrnoException | null)?.syscall === 'string';
}

/** What was computed from a chart, or the issue that says at which bar it failed. */
export function computed<Value>(
  chart: Chart,
  compute: (chart: Chart) => Value,
): { readonly ok: true; readonly value: Value } | { readonly ok: false; readonly issues: readonly Issue[] } {
  try {
    return { ok: true, value: compute(chart) };
  } catch (error) {
    if (error instanceof UsageError || error instanceof Interrupted || isFromSystem(error)) throw error;
    return { ok: false, issues: [issueOfFault(error, chart, compute)] };
  }
}

/**
 * How Node says that a package, or a file of it, is not installed. Source: Node's errors (MODULE_NOT_FOUND,
 * ERR_MODULE_NOT_FOUND).
 */
const NOT_INSTALLED = /^Cannot find (?:module|package) '((?:@[^/']+\/)?[^./'][^/']*)/u;

/** A fault of ours that nothing foresaw, as a sentence; what went wrong goes into the report and not a list of our files. */
export function sentenceOfFault(error: unknown): string {
  if (isFromSystem(error)) {
    const { path } = error as NodeJS.ErrnoException;
    return path === undefined ? reasonOf(error) : `'${shownText(path)}': ${reasonOf(error)}`;
  }
  const [, missing] = NOT_INSTALLED.exec(error instanceof Error ? error.message : '') ?? [];
  if (missing !== undefined)
    return `the package ${shownText(missing)} is not installed; 'npm ci' in Fivespan's folder installs what is missing`;
  const what = shownText(error instanceof Error ? error.message : String(error));
  return `Fivespan failed, which is its own fault and not yours (${what}); please report it to its makers with this command and the chart`;
}

/** Whether two names mean one file, however they are written and whatever links lead there. */
export async function isSameFile(one: string, other: string): Promise<boolean> {
  const [a, b] = await Promise.all([one, other].map((file) => stat(file).catch(() => null)));
  return a !== null && a !== undefined && b !== null && b !== undefined && a.dev === b.dev && a.ino === b.ino;
}
