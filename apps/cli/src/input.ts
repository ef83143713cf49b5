import { existsSync } from 'node:fs';
import { readFile, stat } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import {
  DEFAULT_CHOICES,
  messageOf,
  readChart,
  readLessonDocument,
  remedyOf,
  severityOf,
  type Chart,
  type Choices,
  type Issue,
  type Result,
} from '@fivespan/core';

/** Longer than any chart; what is longer is refused unread. */
const LARGEST_CHART_BYTES = 2_000_000;

/** A chart from outside. */
export interface Input {
  /** As given on the command line, for messages. */
  readonly file: string;
  /** The chart's text as typed. */
  readonly text: string;
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
    if (bytes > LARGEST_CHART_BYTES) break;
  }
  return Buffer.concat(chunks);
}

const refuse = (code: 'file.missing' | 'file.too-large' | 'file.not-text', file: string): Result<string> => ({
  ok: false,
  issues: [{ code, args: { file, limit: LARGEST_CHART_BYTES }, place: {} }],
});

async function textOf(argument: string): Promise<Result<string>> {
  let bytes: Buffer;
  if (argument === '-') {
    bytes = await readStandardInput();
  } else {
    if (!existsSync(argument)) {
      return argument.includes('|') ? { ok: true, value: argument, warnings: [] } : refuse('file.missing', argument);
    }
    const { size } = await stat(argument);
    if (size > LARGEST_CHART_BYTES) return refuse('file.too-large', argument);
    bytes = await readFile(argument).catch(() => Buffer.alloc(0));
  }
  if (bytes.length > LARGEST_CHART_BYTES) return refuse('file.too-large', argument);
  try {
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true }).decode(bytes), warnings: [] };
  } catch {
    return refuse('file.not-text', argument);
  }
}

type Content = Pick<Input, 'text' | 'chart' | 'choices'>;

function readChartText(text: string, choices: Choices): Result<Content> {
  const chart = readChart(text);
  return chart.ok ? { ...chart, value: { text, chart: chart.value, choices } } : chart;
}

/** A lesson file that fivespan wrote: its chart, with the choices it holds. */
function readLessonFile(json: string): Result<Content> {
  const document = readLessonDocument(json);
  if (!document.ok) return document;
  const content = readChartText(document.value.chartText, document.value.choices);
  return content.ok ? { ...content, warnings: [...document.warnings, ...content.warnings] } : content;
}

/** Reads one argument: a chart or lesson file, `-`, or changes (an argument with a bar line that names no file). */
export async function readInput(argument: string): Promise<Input | FaultyInput> {
  const text = await textOf(argument);
  if (!text.ok) return { file: argument, issues: text.issues };
  const isLesson = text.value.trimStart().startsWith('{');
  const content = isLesson ? readLessonFile(text.value) : readChartText(text.value, DEFAULT_CHOICES);
  return content.ok
    ? { file: argument, ...content.value, warnings: content.warnings }
    : { file: argument, issues: content.issues };
}

/** A title where the chart has none: the file's name, else 'Changes'. */
export function titleOf({ chart, file }: Input): string {
  if (chart.title !== '') return chart.title;
  return existsSync(file) ? basename(file, extname(file)) : 'Changes';
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
