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
import { BROWSER_GLOBALS, CORE_STAGES, WEB_LAYERS } from '../../oxlint.config.mjs';

const root = join(import.meta.dirname, '../..');
const stages = CORE_STAGES as readonly string[];
const pairs = stages.flatMap((low, index) => stages.slice(index + 1).map((high) => [low, high] as const));

const IMPURE = [
  ['a package above', "import { x } from '@fivespan/formats/midi';\nexport const y = x;\n"],
  ['Node', "import { readFileSync } from 'node:fs';\nexport const y = readFileSync;\n"],
  ['the clock', 'export const now = (): number => Date.now();\n'],
  ['chance', 'export const chance = (): number => Math.random();\n'],
  ['the process', 'export const args = process.argv;\n'],
] as const;

const webLayers = WEB_LAYERS as readonly string[];
/** From, to, and whether the house allows it: `ui → features → platform`, and ui never past features. */
const WEB_IMPORTS = webLayers.flatMap((from, index) =>
  webLayers.flatMap((to, place) => (from === to ? [] : [[from, to, place === index - 1] as const])),
);

const webImport = (from: string, to: string): string => `apps/web/src/${from}/one/from-${to}.ts`;
const webGlobal = (layer: string, name: string): string => `apps/web/src/${layer}/one/${name}.ts`;
/** One of each kind; the list itself is data. */
const GLOBALS = ['window', 'document', 'localStorage', 'fetch', 'Worker', 'AudioContext', 'Date', 'crypto'];
const WEB_IMPURE = [
  ['features', 'react', "import { useState } from 'react';\nexport const y = useState;\n"],
  ['features', 'globalThis', "export const y = globalThis.matchMedia('print');\n"],
  ['ui', 'URL.createObjectURL', 'export const y = URL.createObjectURL(new Blob());\n'],
  ['ui', 'globalThis', 'export const y = globalThis.localStorage;\n'],
  ['platform', 'Node', "import { join } from 'node:path';\nexport const y = join;\n"],
] as const;

const upward = (low: string, high: string): string => `packages/core/src/${low}/up-to-${high}.ts`;
const downward = (low: string, high: string): string => `packages/core/src/${high}/down-to-${low}.ts`;
const impure = (what: string): string => `packages/core/src/theory/${what.replaceAll(' ', '-')}.ts`;

/** Where the application starts, in the page and in a worker: they wire the layers together. */
const WEB_ENTRIES = ['apps/web/src/main.tsx', 'apps/web/src/jobs.ts'];

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
  for (const [from, to] of WEB_IMPORTS) {
    write(webImport(from, to), `import { x } from '../../${to}/one/index.ts';\nexport const y = x;\n`);
  }
  for (const layer of webLayers) {
    for (const name of GLOBALS) write(webGlobal(layer, name), `export const y = ${name};\n`);
  }
  for (const [layer, what, code] of WEB_IMPURE) write(webGlobal(layer, what), code);
  for (const file of WEB_ENTRIES) write(file, 'export const y = document;\n');
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

describe('the workbench', () => {
  test.each(WEB_IMPORTS)('%s may import %s: %s', (from, to, allowed) =>
    expect(refused.has(webImport(from, to))).toBe(!allowed),
  );

  test('only platform touches the browser', () => {
    for (const name of GLOBALS) {
      expect(BROWSER_GLOBALS).toContain(name);
      expect(refused).toContain(webGlobal('ui', name));
      expect(refused).toContain(webGlobal('features', name));
      expect(refused).not.toContain(webGlobal('platform', name));
    }
    for (const file of WEB_ENTRIES) expect(refused).not.toContain(file);
  });

  test.each(WEB_IMPURE)('%s may not use %s', (layer, what) => expect(refused).toContain(webGlobal(layer, what)));
});
