/** The sound bank for checks: made when it is not there. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { openBank, type Bank } from '@fivespan/sound/bank';
// @ts-expect-error a build script in plain JavaScript
import { ensureBank } from '../tools/bank.mjs';

const root = join(import.meta.dirname, '..');

/** Paths of the two banks. */
export async function bankFiles(): Promise<{ readonly web: string; readonly full: string }> {
  return (await (ensureBank as (root: string) => Promise<unknown>)(root)) as { web: string; full: string };
}

export async function testBank(name: 'web' | 'full' = 'web'): Promise<Bank> {
  const opened = await openBank(readFileSync((await bankFiles())[name]), name);
  if (!opened.ok) throw new Error(`the ${name} bank cannot be opened: ${JSON.stringify(opened.issues)}`);
  return opened.value;
}
