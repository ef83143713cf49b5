/**
 * Would a check notice? Plants one plausible mistake at a time in packages/core and packages/formats, runs the tests of its room, its
 * subject's outside checks and the digest, and counts which mistakes were noticed.
 *
 *   npx tsx bench/mutants.ts [--seed 1] [--count 10] [--seconds 600]
 *
 * The sample is drawn by the seed from every place where a rule below applies. Works on the files themselves and puts them back, also
 * when it is stopped; run it in a clean tree.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { randomSource } from '@fivespan/core';

const root = join(import.meta.dirname, '..');

/** Mistakes one makes: what stands there, and what a tired hand writes instead. */
const MISTAKES: readonly (readonly [name: string, there: RegExp, instead: (found: string) => string])[] = [
  [
    'a bound one off',
    / (?:<|>)=? /gu,
    (found) => (found.includes('=') ? found.replace('=', '') : `${found.trimEnd()}= `),
  ],
  ['equal for unequal', / (?:===|!==) /gu, (found) => (found.includes('!') ? ' === ' : ' !== ')],
  ['and for or', / (?:&&|\|\|) /gu, (found) => (found.includes('&') ? ' || ' : ' && ')],
  ['plus for minus', /(?<=[\w)\]]) [+-] (?=[\w(])/gu, (found) => (found.includes('+') ? ' - ' : ' + ')],
  ['a number one off', /(?<=[ ([:])\d{1,3}(?=[,;)\] ])/gu, (found) => String(Number(found) + 1)],
  ['a condition dropped', /(?<=\bif \()[^()]{3,40}(?=\))/gu, () => 'false'],
  ['least for most', /Math\.(?:min|max)\(/gu, (found) => (found.includes('min') ? 'Math.max(' : 'Math.min(')],
  ['last for first', /\.at\((?:-1|0)\)/gu, (found) => (found.includes('-') ? '.at(0)' : '.at(-1)')],
];

/** Where mistakes are planted: what makes music and what writes it down. */
const FOLDERS = ['packages/core/src', 'packages/formats/src/midi', 'packages/formats/src/musicxml'];

interface Mutant {
  readonly file: string;
  readonly at: number;
  readonly found: string;
  readonly instead: string;
  readonly name: string;
}

const setting = (name: string, usual: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  return at < 0 ? usual : Number(process.argv[at + 1]);
};

/** Code only: a mistake in a comment or a text is none. */
function isCode(text: string, at: number): boolean {
  const line = text.slice(text.lastIndexOf('\n', at) + 1, at);
  return !/^\s*(?:\/?\*|\/\/|import|export \*)|\/\/|['`][^'`]*$/u.test(line);
}

function mutantsIn(file: string): Mutant[] {
  const text = readFileSync(join(root, file), 'utf8');
  return MISTAKES.flatMap(([name, there, instead]) =>
    [...text.matchAll(there)]
      .filter(({ index }) => isCode(text, index))
      .map(({ 0: found, index }) => ({ file, at: index, found, instead: instead(found), name })),
  );
}

/** Tests that ought to notice. */
function testsOf(file: string): string[] {
  const [, pack = '', stage = ''] = /^packages\/(\w+)\/src\/(\w+)\//u.exec(file) ?? [];
  const subject = `checks/${pack === 'core' ? stage : pack}`;
  return [
    'checks/digest/',
    `packages/${pack}/src/${stage}/`,
    `${dirname(file)}/`,
    ...(existsSync(join(root, subject)) ? [`${subject}/`] : []),
  ];
}

const all = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !/\.test\.ts$|\.d\.ts$|invented-/u.test(file))
    .sort()
    .flatMap((file) => mutantsIn(`${folder}/${file}`)),
);
const random = randomSource(setting('seed', 1), 'mutants');
const until = Date.now() + setting('seconds', 600) * 1000;
const tally = { noticed: 0, missed: 0 };
console.log(`${all.length} places`);

for (let count = setting('count', 10); count > 0 && Date.now() < until; count--) {
  const mutant = all[random.integer(all.length)];
  if (mutant === undefined) break;
  const { file, at, found, instead, name } = mutant;
  const path = join(root, file);
  const before = readFileSync(path, 'utf8');
  const line = before.slice(0, at).split('\n').length;
  const putBack = (): void => writeFileSync(path, before);
  process.once('exit', putBack);
  let isNoticed: boolean;
  try {
    writeFileSync(path, before.slice(0, at) + instead + before.slice(at + found.length));
    const { status } = spawnSync(
      join(root, 'node_modules/.bin/vitest'),
      ['run', '--bail', '1', '--reporter', 'dot', '--project', 'shared', '--project', 'alone', ...testsOf(file)],
      { cwd: root, env: { ...process.env, CI: 'true' }, stdio: 'ignore', timeout: 300_000 },
    );
    // a test that never ends has noticed
    isNoticed = status !== 0;
  } finally {
    putBack();
    process.removeListener('exit', putBack);
  }
  tally[isNoticed ? 'noticed' : 'missed']++;
  console.log(
    `${isNoticed ? 'noticed' : 'MISSED '}  ${file}:${line}  ${name}: '${found.trim()}' → '${instead.trim()}'`,
  );
}
console.log(`${tally.noticed} noticed, ${tally.missed} missed`);
