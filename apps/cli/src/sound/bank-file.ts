import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { messageOf, remedyOf } from '@fivespan/core';

/**
 * The full sound bank's file, cut now where it is missing.
 * @returns where it is, or what is wrong in a line
 */
export async function bankFile(): Promise<{ readonly path: string } | { readonly fault: string }> {
  const { BANK_FILES, missingBank } = await import('@fivespan/sound/bank');
  const sound = join(dirname(createRequire(import.meta.url).resolve('@fivespan/sound/bank')), '..', '..');
  const path = join(sound, BANK_FILES.full);
  if (existsSync(path)) return { path };
  const root = join(sound, '..', '..');
  try {
    // a build script in plain JavaScript, which says what it does
    const { ensureBank } = (await import(pathToFileURL(join(root, 'tools', 'bank.mjs')).href)) as {
      readonly ensureBank: (root: string, log: (text: string) => void) => Promise<unknown>;
    };
    await ensureBank(root, (text) => process.stderr.write(`${text}\n`));
  } catch {
    // reported below: the file is not there
  }
  const issue = missingBank('full');
  return existsSync(path) ? { path } : { fault: `${messageOf(issue)}; ${remedyOf(issue)}` };
}
