#!/usr/bin/env node
/**
 * Starts the command line. Node 20 cannot run TypeScript, so what runs is a bundle: made here when a source has changed
 * since the last one, otherwise started at once (a few file dates are all that is looked at).
 */
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const cli = join(dirname(fileURLToPath(import.meta.url)), '..');
const root = join(cli, '..', '..');
/** `FIVESPAN_CLI_DIST` names another folder to build to, for a check of first runs. */
const dist = process.env.FIVESPAN_CLI_DIST ?? join(cli, 'dist');
const currentFile = join(dist, 'current.json');
/** Bundles kept beside the current one, for a process that started before it and still loads its pieces. */
const OLD_BUNDLES_KEPT = 2;

/** The date and size of a source, as a text that changes when the file does. */
function stampOf(file) {
  const stat = statSync(join(root, file), { throwIfNoEntry: false });
  return stat === undefined ? 'gone' : `${stat.mtimeMs}:${stat.size}`;
}

/** The folder of a bundle that is up to date, or undefined. */
function freshBundle() {
  try {
    const { folder, inputs } = JSON.parse(readFileSync(currentFile, 'utf8'));
    const fresh = Object.entries(inputs).every(([file, stamp]) => stampOf(file) === stamp);
    return fresh && existsSync(join(dist, folder, 'main.js')) ? folder : undefined;
  } catch {
    return undefined; // no bundle yet, or one half written by a process that was ended
  }
}

async function bundle() {
  process.stderr.write('fivespan: building …\n');
  const { build, stop } = await import('esbuild');
  const folder = `${Date.now().toString(36)}-${process.pid}`;
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: {
      main: 'apps/cli/src/main.ts',
      'lesson-worker': 'apps/cli/src/lesson/lesson-worker.ts',
      'sound-worker': 'apps/cli/src/sound/sound-worker.ts',
    },
    outdir: join(dist, folder),
    bundle: true,
    splitting: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    metafile: true,
    logLevel: 'warning',
    // Our own packages are bundled; others stay files of their own, above all the engraver (LGPL: replaceable).
    plugins: [
      {
        name: 'keep-packages-outside',
        setup: (builder) =>
          builder.onResolve({ filter: /^[^./]/ }, ({ path, kind }) =>
            kind === 'entry-point' || path.startsWith('@fivespan/') ? undefined : { external: true },
          ),
      },
    ],
  });
  // its own process would stay as long as ours
  await stop();
  const inputs = Object.fromEntries(
    ['package-lock.json', 'apps/cli/bin/fivespan.mjs', ...Object.keys(metafile.inputs)].map((file) => [
      file,
      stampOf(file),
    ]),
  );
  mkdirSync(dist, { recursive: true });
  const beside = join(dist, `current.${folder}.json`);
  writeFileSync(beside, JSON.stringify({ folder, inputs }));
  renameSync(beside, currentFile);
  const bundles = readdirSync(dist, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
  for (const old of bundles.slice(0, -1 - OLD_BUNDLES_KEPT)) rmSync(join(dist, old), { recursive: true, force: true });
  return folder;
}

/** Several first runs at once: one builds, the others wait for it and start what it has built. */
async function bundleOnce() {
  const { alone } = await import('../../../tools/alone.mjs');
  return await alone(
    join(dist, 'bundle'),
    'fivespan: another run is building',
    async () => freshBundle() ?? (await bundle()),
  );
}

const folder = freshBundle() ?? (await bundleOnce());
const { main } = await import(pathToFileURL(join(dist, folder, 'main.js')).href);
process.exitCode = await main(process.argv.slice(2));
