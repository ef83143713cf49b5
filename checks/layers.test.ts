/**
 * Source: CONTRIBUTING, 'The house'. An import that points up must be refused by lint, for every pair of stages.
 * Project references and package names do not stop it; only this rule does, so the rule itself is tested.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
// @ts-expect-error the lint configuration is plain JavaScript
import { CORE_STAGES } from '../oxlint.config.mjs';

const root = join(import.meta.dirname, '..');
const stages = CORE_STAGES as readonly string[];
const pairs = stages.flatMap((low, index) => stages.slice(index + 1).map((high) => [low, high] as const));

const IMPURE = [
  ['a package above', "import { x } from '@fivespan/formats/midi';\nexport const y = x;\n"],
  ['Node', "import { readFileSync } from 'node:fs';\nexport const y = readFileSync;\n"],
  ['the clock', 'export const now = (): number => Date.now();\n'],
  ['chance', 'export const chance = (): number => Math.random();\n'],
  ['the process', 'export const args = process.argv;\n'],
] as const;

const upward = (low: string, high: string): string => `packages/core/src/${low}/up-to-${high}.ts`;
const downward = (low: string, high: string): string => `packages/core/src/${high}/down-to-${low}.ts`;
const impure = (what: string): string => `packages/core/src/theory/${what.replaceAll(' ', '-')}.ts`;

/** Files that lint refused for what they reach for. */
const refused = new Set<string>();

beforeAll(() => {
  const folder = mkdtempSync(join(tmpdir(), 'fivespan-layers-'));
  const write = (path: string, code: string): void => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), code);
  };
  cpSync(join(root, 'oxlint.config.mjs'), join(folder, 'oxlint.config.mjs'));
  for (const [low, high] of pairs) {
    write(upward(low, high), `import { x } from '../${high}/index.ts';\nexport const y = x;\n`);
    write(downward(low, high), `import { x } from '../${low}/index.ts';\nexport const y = x;\n`);
  }
  for (const [what, code] of IMPURE) write(impure(what), code);
  const run = spawnSync(join(root, 'node_modules/.bin/oxlint'), ['-c', 'oxlint.config.mjs', '-f', 'unix'], {
    cwd: folder,
    encoding: 'utf8',
  });
  for (const [, file = ''] of run.stdout.matchAll(/^(\S+?):\d+:\d+: .*eslint\(no-restricted/gmu)) refused.add(file);
  rmSync(folder, { recursive: true });
});

describe.each(pairs)('%s and %s', (low, high) => {
  test('the lower may not import the higher', () => expect(refused).toContain(upward(low, high)));
  // hand rests on theory alone, although chart stands before it
  test.skipIf(low === 'chart' && high === 'hand')('the higher may import the lower', () =>
    expect(refused).not.toContain(downward(low, high)),
  );
});

test.each(IMPURE)('core may not use %s', (what) => expect(refused).toContain(impure(what)));
