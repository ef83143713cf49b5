import {
  type DrillOrder,
  folderOfKey,
  folderOfTitle,
  LESSON_FILE,
  packFileName,
  type Key,
  type LessonFileName,
  type PackFileName,
} from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { mostWorkers, runJob } from '../../platform/workers/index.ts';
import { order } from './orders.ts';
import { fileOfPage } from './pages-choice.ts';
import { arePagesSame, $preview } from './preview.ts';
import { documentOf, makeDrillSheet, makeFile, pressAt, type PrintedLesson } from './printed-lesson.ts';
import type { DrillFormat } from './drill-sheet-job.ts';
import type { ZipEntry } from './zip-job.ts';

/** Media types of what is saved. Source: IANA's register (PDF, zip, JSON, MusicXML), RFC 6295 (from memory). */
const TYPES: Readonly<Record<'pdf' | 'musicxml' | 'mid' | 'zip' | 'json', string>> = {
  pdf: 'application/pdf',
  musicxml: 'application/vnd.recordare.musicxml+xml',
  mid: 'audio/midi',
  zip: 'application/zip',
  json: 'application/json',
};

/** The pages that are shown, where they are the ones asked for: they need not be made again. */
function shownBytes(lesson: PrintedLesson, key: Key, file: LessonFileName, paper: Paper): Uint8Array | undefined {
  const shown = $preview.get()?.shown;
  if (shown == null || fileOfPage(shown.asked.view) !== file) return undefined;
  const { view } = shown.asked;
  return arePagesSame(shown.asked, { lesson, view, key, paper }) ? shown.bytes : undefined;
}

/** Makes and saves one file of a lesson in one key. */
export function saveKeyFile(lesson: PrintedLesson, key: Key, file: LessonFileName, paper: Paper): Promise<void> {
  return order({ kind: 'file', file, key }, async ({ signal }) => ({
    name: packFileName(lesson.chart.title, key, file),
    bytes:
      shownBytes(lesson, key, file, paper) ?? (await makeFile(lesson, key, file, paper, { urgency: 'soon', signal })),
    type: TYPES[file.slice(file.lastIndexOf('.') + 1) as 'pdf' | 'musicxml' | 'mid'],
  }));
}

/** Makes and saves a drill as a sheet or as notation. */
export function saveDrill(lesson: PrintedLesson, drill: DrillOrder, format: DrillFormat, paper: Paper): Promise<void> {
  return order({ kind: 'drill', drill: drill.kind, format }, async ({ signal }) => ({
    name: `${folderOfTitle(lesson.chart.title)}-${drill.kind}.${format}`,
    bytes: await makeDrillSheet(lesson, drill, format, paper, { urgency: 'soon', signal }),
    type: TYPES[format],
  }));
}

/** Saves the lesson itself: chart and choices, to open again here or elsewhere. */
export function saveLessonFile(lesson: PrintedLesson): Promise<void> {
  return order({ kind: 'lesson' }, async () => ({
    name: `${folderOfTitle(lesson.chart.title)}.${LESSON_FILE}`,
    bytes: documentOf(lesson),
    type: TYPES.json,
  }));
}

/** Presses that work side by side at most: each holds an open engraver, about 215 MB. */
const MOST_PRESSES = 4;

/**
 * Makes and saves a zip with some files in several keys and the lesson itself: what `fivespan lesson` puts into a folder. A
 * file taken out of its folder still says which tune, key and page it is.
 */
export function savePack(
  lesson: PrintedLesson,
  keys: readonly Key[],
  files: readonly PackFileName[],
  paper: Paper,
): Promise<void> {
  return order({ kind: 'pack', keys: keys.length }, async ({ report, signal }) => {
    const entries: ZipEntry[] = [];
    const total = keys.length * files.length;
    const waiting = [...keys.entries()];
    let done = 0;
    // a press takes the next key; where its files lie in the zip depends on the key alone
    const work = async (press: string): Promise<void> => {
      for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
        const [place, key] = next;
        for (const [index, file] of files.entries()) {
          const bytes = await makeFile(lesson, key, file, paper, {
            urgency: 'later',
            signal: AbortSignal.any([signal, stop.signal]),
            press,
          });
          entries[place * files.length + index] = {
            path: `${folderOfKey(key)}/${packFileName(lesson.chart.title, key, file)}`,
            bytes,
          };
          report(++done, total);
        }
      }
    };
    // one that fails stops the others
    const stop = new AbortController();
    const presses = Math.min(mostWorkers(), keys.length, MOST_PRESSES);
    try {
      await Promise.all(Array.from({ length: presses }, (_, place) => work(pressAt(place))));
    } catch (error) {
      waiting.length = 0;
      stop.abort(error);
      throw error;
    }
    entries.push({ path: LESSON_FILE, bytes: documentOf(lesson) });
    const bytes = await runJob<readonly ZipEntry[], Uint8Array>('zip', entries, { urgency: 'later', signal });
    return { name: `${folderOfTitle(lesson.chart.title)}.zip`, bytes, type: TYPES.zip };
  });
}
