/** Source: issue 'Sound', Bank: made when missing, explained when it cannot be made, the same bytes every time. */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
// @ts-expect-error a build script in plain JavaScript
import { ensureBank } from './bank.mjs';

const root = join(import.meta.dirname, '..');
const make = ensureBank as (
  root: string,
  options?: { log?: (line: string) => void },
) => Promise<{ readonly web: string; readonly full: string }>;
const folder = mkdtempSync(join(tmpdir(), 'fivespan-bank-'));

afterAll(() => rmSync(folder, { recursive: true }));

test('an empty tree gets its banks, the same bytes as any other; once made they stay', async () => {
  const tree = join(folder, 'tree');
  mkdirSync(join(tree, 'packages', 'sound'), { recursive: true });
  cpSync(join(root, 'packages', 'sound', 'package.json'), join(tree, 'packages', 'sound', 'package.json'));
  symlinkSync(join(root, 'node_modules'), join(tree, 'node_modules'));
  const lines: string[] = [];
  const log = (line: string): void => void lines.push(line);
  const made = await make(tree, { log });
  const here = await make(root);
  expect(readFileSync(made.web).equals(readFileSync(here.web))).toBe(true);
  expect(readFileSync(made.full).equals(readFileSync(here.full))).toBe(true);
  expect(lines.length).toBe(1);
  const { mtimeMs } = statSync(made.web);
  await make(tree, { log });
  expect([lines.length, statSync(made.web).mtimeMs]).toEqual([1, mtimeMs]);
  // a stamp of other inputs, a missing file: made again
  writeFileSync(join(tree, 'packages', 'sound', 'dist', 'bank.stamp'), 'other');
  await make(tree, { log });
  rmSync(made.full);
  await make(tree, { log });
  expect(lines.length).toBe(3);
});

test('without the font it says which package is missing and what to do', async () => {
  await expect(make(join(folder, 'nothing'))).rejects.toThrow(/@librescore\/sf3 is not installed.*npm ci/u);
});
