import {
  analyse,
  barsOf,
  DEFAULT_CHOICES,
  keysInMode,
  LONGEST_CHART_CHARACTERS,
  readAround,
  readLessonDocument,
  severityOf,
  writeChart,
  type Chart,
  type Choices,
  type Issue,
} from '@fivespan/core';
import { textOfBytes } from '@fivespan/formats/text';
import { readBackup, type Backup, type BackupDamage } from '../backup/backup-document.ts';
import type { FileKind } from './file-kind.ts';
import { asChartText } from './pasted-chart.ts';

/** What a file from outside holds. */
export type FileContent =
  | {
      readonly kind: 'lesson';
      readonly source: Exclude<FileKind, 'backup'>;
      readonly chartText: string;
      readonly choices: Choices;
      /** What was left out or is to be mended. */
      readonly issues: readonly Issue[];
    }
  | { readonly kind: 'backup'; readonly backup: Backup }
  | { readonly kind: 'newer backup'; readonly version: number }
  | { readonly kind: 'damaged backup'; readonly damage: BackupDamage }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] };

const refuse = (code: Issue['code'], args: Issue['args'] = {}): FileContent => ({
  kind: 'refused',
  issues: [{ code, args, place: {} }],
});

/** A chart as people send it, as a lesson: what it is written as on the way is in `chartText`. */
export function readChartContent(text: string): FileContent {
  // a text of any length is looked at by its length alone
  return lessonOf(text.length > LONGEST_CHART_CHARACTERS ? text : asChartText(text), DEFAULT_CHOICES);
}

/**
 * A chart's text as a lesson. A text with faults comes too, as long as it has bars: the chart screen marks them.
 */
function lessonOf(chartText: string, choices: Choices): FileContent {
  if (chartText.length > LONGEST_CHART_CHARACTERS)
    return refuse('chart.too-large', { limit: LONGEST_CHART_CHARACTERS });
  const { chart, issues } = readAround(chartText);
  const isWrong = issues.some((issue) => severityOf(issue) === 'error');
  // a letter, say: what is wrong with each of its words helps nobody
  if (isWrong && !chartText.includes('|')) return refuse('chart.empty');
  if (isWrong && chart === null) return { kind: 'refused', issues };
  return { kind: 'lesson', source: 'chart', chartText, choices, issues };
}

/** A text's chart, as far as it can be read; null where nothing can. */
export function readChartText(chartText: string): Chart | null {
  return readAround(asChartText(chartText)).chart;
}

/** The choices with their keys in the chart's mode, as the command line reads them; as they are where no mode can be told. */
function inModeOf(chartText: string, choices: Choices): ReturnType<typeof keysInMode> {
  const { chart } = readAround(chartText);
  if (chart === null || barsOf(chart).length === 0) return { choices, warnings: [] };
  try {
    return keysInMode(choices, analyse(chart, choices.pins.analysis).key.mode);
  } catch {
    // what cannot be analysed is opened all the same: the screen that computes it says which bar
    return { choices, warnings: [] };
  }
}

function readLessonContent(text: string): FileContent {
  const document = readLessonDocument(text);
  if (!document.ok) return { kind: 'refused', issues: document.issues };
  const { chartText, choices } = document.value;
  const content = lessonOf(chartText, choices);
  if (content.kind !== 'lesson') return content;
  const mended = inModeOf(chartText, choices);
  return {
    ...content,
    source: 'lesson',
    choices: mended.choices,
    issues: [...document.warnings, ...content.issues, ...mended.warnings],
  };
}

/** Reads a file from outside: bounded, validated, nothing in it trusted. */
export async function readContent(bytes: Uint8Array, kind: FileKind): Promise<FileContent> {
  if (kind === 'lead sheet') {
    const { readMusicXml } = await import('@fivespan/formats/musicxml');
    const read = readMusicXml(bytes);
    if (!read.ok) return { kind: 'refused', issues: read.issues };
    const chartText = writeChart(read.value);
    return { kind: 'lesson', source: 'lead sheet', chartText, choices: DEFAULT_CHOICES, issues: read.warnings };
  }
  const text = textOfBytes(bytes);
  if (text === null) return refuse('file.not-text');
  if (kind === 'backup') {
    const read = readBackup(text);
    if (read.kind === 'backup') return read;
    if (read.kind === 'newer') return { kind: 'newer backup', version: read.version };
    return { kind: 'damaged backup', damage: read.damage };
  }
  return kind === 'lesson' ? readLessonContent(text) : readChartContent(text);
}
