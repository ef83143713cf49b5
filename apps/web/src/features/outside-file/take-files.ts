import { atom } from 'nanostores';
import type { StorageFault } from '../../platform/storage/index.ts';
import { showRestoring } from '../backup/index.ts';
import { createLesson, sameLesson } from '../lesson-list/index.ts';
import { goTo } from '../navigation/index.ts';
import { headingOf, withTitle } from '../open-lesson/index.ts';
import { readOutsideFile, type OutsideFile } from './outside-file.ts';

/** What became of one file that was taken in. */
export interface FileReport {
  readonly fileName: string;
  readonly file: OutsideFile;
  /** The lesson made of it; null where none was, or it could not be kept. */
  readonly lesson: { readonly id: string; readonly title: string } | null;
  /** Whether that lesson was here before, the same chart and choices: nothing was added. */
  readonly wasHere: boolean;
  /** What stood in the way of keeping it. */
  readonly fault: StorageFault | null;
}

/** Files that are being taken in, and what became of those before. */
export interface Taking {
  /** The file that is being read. */
  readonly reading: string | null;
  readonly reports: readonly FileReport[];
}

export const $taking = atom<Taking>({ reading: null, reports: [] });

/** More than a hand drops by intention. */
const MOST_FILES = 200;

/** A file's name without its ending, for a title. */
function titleOfFile(name: string): string {
  return name.replace(/\.[^.]*$/u, '');
}

async function take(file: File): Promise<FileReport> {
  const read = await readOutsideFile(file);
  const report: FileReport = { fileName: file.name, file: read, lesson: null, wasHere: false, fault: null };
  if (read.kind === 'backup') return { ...report, fault: await showRestoring(read.backup) };
  if (read.kind !== 'lesson') return report;
  const here = read.source === 'lesson' ? await sameLesson(read.chartText, read.choices) : undefined;
  if (here !== undefined) return { ...report, lesson: here, wasHere: true };
  const { title } = headingOf(read.chartText);
  // a lead sheet's text is ours, so its file's name may stand in it; a text of the user's stays as it is
  const isNameless = title === '' && read.source === 'lead sheet';
  const chartText = isNameless ? withTitle(read.chartText, titleOfFile(file.name)) : read.chartText;
  const { id, outcome } = await createLesson(chartText, read.choices);
  if (outcome.kind === 'fault') return { ...report, fault: outcome.fault };
  return { ...report, lesson: { id, title: headingOf(chartText).title } };
}

/**
 * Takes files in: each becomes a lesson, a backup is shown before anything happens. One file that came through whole is opened;
 * what is to be told of others is in `$taking`.
 */
export async function takeFiles(files: readonly File[]): Promise<void> {
  if (files.length === 0 || $taking.get().reading !== null) return;
  const reports: FileReport[] = [];
  for (const file of files.slice(0, MOST_FILES)) {
    $taking.set({ reading: file.name, reports });
    reports.push(await take(file));
  }
  const [only] = reports;
  const isWhole = only?.lesson != null && !only.wasHere && only.file.kind === 'lesson' && only.file.issues.length === 0;
  const told = reports.filter(({ file, fault }) => file.kind !== 'backup' || fault !== null);
  if (reports.length === 1 && isWhole) {
    $taking.set({ reading: null, reports: [] });
    // a lesson is to be gone on with, a chart to be looked over
    goTo({ kind: 'lesson', id: only.lesson.id, screen: only.file.source === 'lesson' ? 'study' : 'chart' });
    return;
  }
  $taking.set({ reading: null, reports: told });
  goTo({ kind: 'lessons' });
}

/** Takes what was told away. */
export function leaveReports(): void {
  $taking.set({ ...$taking.get(), reports: [] });
}
