/**
 * Source: our own docblocks (CONTRIBUTING: an `@example` runs as a test). An example is one line, `expression // → value`. A value written
 * as a literal must come out; `…` in it stands for anything, prose says what to look at and the expression must run. Names that
 * an example does not make are those of the house, of its own module, or of the demo lesson below.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import * as core from '@fivespan/core';
import * as diagram from '@fivespan/formats/diagram';
import * as midi from '@fivespan/formats/midi';
import * as musicxml from '@fivespan/formats/musicxml';
import { transformSync } from 'esbuild';
import { describe, expect, test } from 'vitest';

const root = join(import.meta.dirname, '../..');

/** Where examples live: pure code. What needs a browser, a bank or an engraver is shown in use by its own checks. */
const FOLDERS = ['packages/core/src', 'packages/formats/src/diagram', 'packages/formats/src/musicxml'];

interface Example {
  readonly file: string;
  readonly line: number;
  readonly code: string;
  readonly value: string;
}

function examplesIn(file: string): Example[] {
  return readFileSync(join(root, file), 'utf8')
    .split('\n')
    .flatMap((text, index) => {
      const found = /^\s*(?:\/\*)?\* @example (?<code>\S.*?)(?: \/\/ (?:→ )?(?<value>.+?))?(?: \*\/)?$/u.exec(
        text,
      )?.groups;
      // an example of several lines, or of what is made of a file's bytes, is shown in use by the checks of its format
      return found === undefined || /^(?:const |readScoreHand\(bytes|segmentsOf\()/u.test(found['code'] ?? '')
        ? []
        : [{ file, line: index + 1, code: found['code'] ?? '', value: found['value'] ?? '' }];
    });
}

const { chart, analysis, plan, lesson } = demo();

function demo() {
  const read = core.readChart(readFileSync(join(root, 'examples/DEMO.chart'), 'utf8'));
  if (!read.ok) throw new Error('the demo chart must be readable');
  const made = core.makeLesson(read.value, core.DEFAULT_CHOICES);
  return { chart: read.value, analysis: made.analysis, plan: made.plan, lesson: made };
}

/** What examples may speak of without making it. */
const STANDING = {
  chart,
  analysis,
  plan,
  lesson,
  score: lesson.score,
  choices: core.DEFAULT_CHOICES,
  key: analysis.key,
  chorus: lesson.chorus,
  bass: lesson.bass,
  arpeggios: lesson.arpeggios,
  chordScale: lesson.plan.slots[0]?.chordScale,
  notes: lesson.plan.slots[0]?.chordScale?.notes,
  kept: lesson.plan.slots[0]?.chordScale?.kept,
  /** A chord by its symbol, a chart by its text. */
  chord: (text: string) => {
    const read = core.readChordSymbol(text);
    if (!read.ok || read.value.kind !== 'chord') throw new Error(`${text} must be a chord symbol`);
    return read.value;
  },
  chartOf: (text: string) => {
    const read = core.readChart(text);
    if (!read.ok) throw new Error(`${text} must be a chart`);
    return read.value;
  },
};

/** What the stages export to one another: an example may use it, though the package does not offer it outside. */
const houseNames: Promise<Record<string, unknown>> = Promise.all(
  readdirSync(join(root, 'packages/core/src'), { recursive: true, encoding: 'utf8' })
    .filter((file) => /(?<!\.test|\.d)\.ts$/u.test(file))
    .map(async (file) => (await import(join(root, 'packages/core/src', file))) as object),
).then((modules) => Object.assign({}, ...modules) as Record<string, unknown>);

/** What an expression gives, its names found in its own module first. */
async function valueOf({ file, code }: Example): Promise<unknown> {
  const own = (await import(join(root, file))) as object;
  const names: Record<string, unknown> = {
    ...STANDING,
    ...(await houseNames),
    ...core,
    ...diagram,
    ...midi,
    ...musicxml,
    ...own,
  };
  const plain = transformSync(`(${code.replace(/;$/u, '')})`, { loader: 'ts' })
    .code.trim()
    .replace(/;$/u, '');
  // oxlint-disable-next-line typescript/no-implied-eval, no-new-func -- our own source, run as a test
  return await new Function(...Object.keys(names), `return ${plain}`)(...Object.values(names));
}

/** A literal as a value; undefined where the text is prose. */
function literal(text: string): { readonly value: unknown } | undefined {
  if (!/^(?:[-\d.[{'`]|true|false|null|undefined)/u.test(text) || text.includes('…')) return undefined;
  try {
    // oxlint-disable-next-line typescript/no-implied-eval, no-new-func -- our own source, run as a test
    return { value: new Function(`return (${text})`)() as unknown };
  } catch {
    return undefined;
  }
}

/** A number written to some digits, `87.225…`, and how far off it may be. */
function roundedNumber(text: string): { readonly value: number; readonly tolerance: number } | undefined {
  const digits = /^(?<all>-?\d+(?:\.(?<decimals>\d+))?)…?$/u.exec(text)?.groups;
  if (digits === undefined) return undefined;
  const tolerance = text.endsWith('…') ? 10 ** -(digits['decimals'] ?? '').length : 1e-9;
  return { value: Number(digits['all']), tolerance };
}

const files = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => /(?<!\.test|\.d)\.ts$/u.test(file))
    .map((file) => `${folder}/${file}`),
);

describe('examples in docblocks', () => {
  const examples = files.flatMap(examplesIn);

  test('are found', () => expect(examples.length).toBeGreaterThan(60));

  test.each(examples.map((each) => [`${each.file}:${each.line}`, each] as const))('%s', async (_place, example) => {
    const value = await valueOf(example);
    const expected = literal(example.value);
    const rounded = roundedNumber(example.value);
    if (rounded !== undefined) expect(Math.abs((value as number) - rounded.value)).toBeLessThan(rounded.tolerance);
    else if (expected !== undefined) expect(value).toEqual(expected.value);
    else expect(value).toBeDefined();
  });
});
