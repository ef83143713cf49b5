import { existsSync } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import {
  analyse,
  barsOf,
  DEFAULT_CHOICES,
  keysInMode,
  messageOf,
  readChart,
  readLessonDocument,
  remedyOf,
  severityOf,
  writeChart,
  type Chart,
  type Choices,
  type Issue,
  type Result,
} from '@fivespan/core';
import { textOfBytes } from '@fivespan/formats/text';
import { UsageError, type Call } from './command.ts';
import { computed, isFromSystem, reasonOf } from './fault.ts';

/** Larger than any chart or lead sheet; what is larger is refused unread. */
const LARGEST_FILE_BYTES = 20_000_000;

/** A chart from outside. */
export interface Input {
  /** As given on the command line, for messages. */
  readonly file: string;
  /** The chart's text as typed. */
  readonly text: string;
  /** What the input was. */
  readonly kind: 'chart' | 'lesson' | 'lead sheet';
  readonly chart: Chart;
  /** Those of a lesson file, else the default ones. */
  readonly choices: Choices;
  readonly warnings: readonly Issue[];
}

/** An input that cannot be used, with everything that is wrong with it. */
export interface FaultyInput {
  readonly file: string;
  readonly issues: readonly Issue[];
}

async function readStandardInput(): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of process.stdin) {
    chunks.push(chunk as Buffer);
    bytes += (chunk as Buffer).length;
    if (bytes > LARGEST_FILE_BYTES) break;
  }
  return Buffer.concat(chunks);
}

const refuse = (code: 'file.missing' | 'file.too-large' | 'file.not-text', file: string): Result<never> => ({
  ok: false,
  issues: [{ code, args: { file, limit: LARGEST_FILE_BYTES }, place: {} }],
});

/** The bytes of a file, of standard input, or of the changes the argument is. */
async function bytesOf(argument: string): Promise<Result<Uint8Array>> {
  if (argument !== '-' && !existsSync(argument)) {
    return argument.includes('|')
      ? { ok: true, value: new TextEncoder().encode(argument), warnings: [] }
      : refuse('file.missing', argument);
  }
  if (argument !== '-') {
    const about = await stat(argument);
    if (about.isDirectory()) {
      const args = { file: argument, reason: 'there is a folder of that name' };
      return { ok: false, issues: [{ code: 'file.unreadable', args, place: {} }] };
    }
    if (!about.isFile()) return refuse('file.missing', argument);
    if (about.size > LARGEST_FILE_BYTES) return refuse('file.too-large', argument);
  }
  let bytes: Buffer;
  try {
    bytes = argument === '-' ? await readStandardInput() : await readFile(argument);
  } catch (error) {
    if (!isFromSystem(error)) throw error;
    return {
      ok: false,
      issues: [{ code: 'file.unreadable', args: { file: argument, reason: reasonOf(error) }, place: {} }],
    };
  }
  if (bytes.length > LARGEST_FILE_BYTES) return refuse('file.too-large', argument);
  return { ok: true, value: bytes, warnings: [] };
}

/** Whether bytes are MusicXML: a zip (.mxl), or a text that begins as XML does, in whatever encoding it names. */
function isMusicXml(bytes: Uint8Array, text: string | null): boolean {
  const start = text?.slice(0, 200) ?? new TextDecoder('latin1').decode(bytes.subarray(0, 200));
  return start.startsWith('PK') || /^\s*<[?!a-z]/u.test(start.replaceAll('\u0000', ''));
}

type Content = Pick<Input, 'text' | 'kind' | 'chart' | 'choices'>;

function readChartText(text: string, choices: Choices): Result<Content> {
  const chart = readChart(text);
  return chart.ok ? { ...chart, value: { text, kind: 'chart', chart: chart.value, choices } } : chart;
}

/** A lesson file that fivespan wrote: its chart, with the choices it holds. */
function readLessonFile(json: string): Result<Content> {
  const document = readLessonDocument(json);
  if (!document.ok) return document;
  const content = readChartText(document.value.chartText, document.value.choices);
  if (!content.ok) return content;
  const { chart, choices } = content.value;
  const own = computed(chart, (tried) => analyse(tried, choices.pins.analysis).key.mode);
  if (!own.ok) return own;
  const mended = keysInMode(choices, own.value);
  return {
    ok: true,
    value: { ...content.value, kind: 'lesson', choices: mended.choices },
    warnings: [...document.warnings, ...content.warnings, ...mended.warnings],
  };
}

/** A lead sheet in MusicXML: its chart, and the chart's text as we write it. */
async function readLeadSheet(bytes: Uint8Array): Promise<Result<Content>> {
  const { readMusicXml } = await import('@fivespan/formats/musicxml');
  const chart = readMusicXml(bytes);
  // nothing can be made of a score without chord symbols: what was a warning stands in the way here
  if (chart.ok && barsOf(chart.value).length === 0) return { ok: false, issues: chart.warnings };
  return chart.ok
    ? {
        ...chart,
        value: { text: writeChart(chart.value), kind: 'lead sheet', chart: chart.value, choices: DEFAULT_CHOICES },
      }
    : chart;
}

async function readContent(argument: string, bytes: Uint8Array): Promise<Result<Content>> {
  const text = textOfBytes(bytes);
  if (isMusicXml(bytes, text)) return await readLeadSheet(bytes);
  if (text === null) return refuse('file.not-text', argument);
  return text.trimStart().startsWith('{') ? readLessonFile(text) : readChartText(text, DEFAULT_CHOICES);
}

/**
 * Reads one argument: a file (chart text, MusicXML lead sheet, or lesson), `-`, or changes (an argument with a bar line that
 * names no file). What it is, its content says.
 */
export async function readInput(argument: string): Promise<Input | FaultyInput> {
  const bytes = await bytesOf(argument);
  if (!bytes.ok) return { file: argument, issues: bytes.issues };
  const content = await readContent(argument, bytes.value);
  return content.ok
    ? { file: argument, ...content.value, warnings: content.warnings }
    : { file: argument, issues: content.issues };
}

/** A title where the chart has none: the file's name, else 'Changes'. */
export function titleOf({ chart, file }: Input): string {
  if (chart.title !== '') return chart.title;
  return existsSync(file) ? basename(file, extname(file)) : 'Changes';
}

/** Tells on standard error what is wrong, an issue a line. */
export function tellIssues({ file, issues }: FaultyInput): void {
  process.stderr.write(issues.map((issue) => `${lineOfIssue(file, issue)}\n`).join(''));
}

/**
 * Reads the one chart that a command takes, and writes to standard error what is wrong with it.
 * @returns undefined where it cannot be used
 * @throws UsageError where there is no chart, or more than one
 */
export async function readOneInput({
  operands: [operand, ...more],
}: Pick<Call, 'operands'>): Promise<Input | undefined> {
  if (operand === undefined || more.length > 0) throw new UsageError('takes one chart');
  const input = await readInput(operand);
  tellIssues('issues' in input ? input : { file: input.file, issues: input.warnings });
  return 'issues' in input ? undefined : input;
}

/** An issue as public JSON. */
export function reportIssue(issue: Issue) {
  return {
    code: issue.code,
    severity: severityOf(issue),
    ...issue.place,
    message: messageOf(issue),
    remedy: remedyOf(issue),
  };
}

/** An issue as a line: where, what is wrong, what would be right. */
export function lineOfIssue(file: string, issue: Issue): string {
  const { line, column, bar } = issue.place;
  const place = [file === '-' ? 'standard input' : file, line, column].filter((part) => part !== undefined).join(':');
  const where = bar === undefined ? '' : ` (bar ${bar})`;
  return `${place}${where}: ${messageOf(issue)}; ${remedyOf(issue)}`;
}
