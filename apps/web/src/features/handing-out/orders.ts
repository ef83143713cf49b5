import {
  ENGINE_VERSION,
  folderOfKey,
  folderOfTitle,
  LESSON_FILE,
  packPath,
  writeLessonDocument,
  type Chart,
  type Choices,
  type Key,
  type PackFileName,
} from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { atom } from 'nanostores';
import { saveFile } from '../../platform/files/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { OpenLesson } from '../open-lesson/index.ts';
import { faultOf, type OrderFault } from './order-fault.ts';
import type { PackFileOrder } from './pack-file-job.ts';
import type { ZipEntry } from './zip-job.ts';

/** What is being made, as far as its name goes. */
export type OrderedThing =
  | { readonly kind: 'file'; readonly file: PackFileName; readonly key: Key }
  | { readonly kind: 'pack'; readonly keys: number }
  | { readonly kind: 'lesson' }
  | { readonly kind: 'sound'; readonly format: string };

/** Where an order is: `done` of `total` steps, or how it ended. */
export type OrderState =
  | { readonly kind: 'making'; readonly done: number; readonly total: number }
  | { readonly kind: 'saved'; readonly name: string; readonly bytes: number }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly fault: OrderFault };

/** A file that was asked for. */
export interface Order {
  readonly id: number;
  readonly thing: OrderedThing;
  readonly state: OrderState;
}

/** A file to save. */
export interface MadeFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly type: string;
}

/** What a maker is given: how to tell how far it is, and when to stop. */
export interface OrderWatch {
  readonly report: (done: number, total: number) => void;
  readonly signal: AbortSignal;
}

/** Ended orders that stay in the list. */
const MOST_ENDED = 3;

/** Everything asked for since the application was started that is not yet forgotten, newest last. */
export const $orders = atom<readonly Order[]>([]);

const stops = new Map<number, AbortController>();
let last = 0;

function change(id: number, state: OrderState): void {
  const orders = $orders.get().map((order) => (order.id === id ? { ...order, state } : order));
  const ended = orders.filter((order) => order.state.kind !== 'making');
  const forgotten = new Set(ended.slice(0, Math.max(0, ended.length - MOST_ENDED)));
  $orders.set(orders.filter((order) => !forgotten.has(order)));
}

/** Makes a file while the application goes on, and hands it to the user when it is there. */
export async function order(thing: OrderedThing, make: (watch: OrderWatch) => Promise<MadeFile>): Promise<void> {
  const id = ++last;
  const stop = new AbortController();
  stops.set(id, stop);
  $orders.set([...$orders.get(), { id, thing, state: { kind: 'making', done: 0, total: 1 } }]);
  try {
    const { name, bytes, type } = await make({
      report: (done, total) => {
        if (!stop.signal.aborted) change(id, { kind: 'making', done, total });
      },
      signal: stop.signal,
    });
    stop.signal.throwIfAborted();
    saveFile(name, bytes, type);
    change(id, { kind: 'saved', name, bytes: bytes.length });
  } catch (error) {
    change(id, stop.signal.aborted ? { kind: 'stopped' } : { kind: 'failed', fault: faultOf(error) });
  } finally {
    stops.delete(id);
  }
}

/** Stops making a file; nothing is saved. */
export function stopOrder(id: number): void {
  stops.get(id)?.abort(new DOMException('stopped', 'AbortError'));
}

/** Takes an ended order out of the list. */
export function forgetOrder(id: number): void {
  $orders.set($orders.get().filter((each) => each.id !== id || each.state.kind === 'making'));
}

/** Media types of what is saved. Source: IANA's register (PDF, zip, JSON, MusicXML), RFC 6295 (from memory). */
const TYPES: Readonly<Record<PackFileName | 'zip' | 'json', string>> = {
  'study.pdf': 'application/pdf',
  'play.pdf': 'application/pdf',
  'lesson.musicxml': 'application/vnd.recordare.musicxml+xml',
  'lesson.mid': 'audio/midi',
  zip: 'application/zip',
  json: 'application/json',
};

/** A lesson as the files need it: one whose chart could be read. */
export interface PrintedLesson {
  readonly chart: Chart;
  readonly chartText: string;
  readonly choices: Choices;
}

/** The open lesson as files need it; null where nothing of its chart can be read. */
export function printedLesson(open: OpenLesson | null): PrintedLesson | null {
  return open === null || open.chart === null
    ? null
    : { chart: open.chart, chartText: open.chartText, choices: open.choices };
}

const documentOf = ({ chartText, choices }: PrintedLesson): Uint8Array =>
  new TextEncoder().encode(writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION }));

/** Makes one file of a lesson in one key. */
export function makeFile(
  { chart, choices }: PrintedLesson,
  key: Key,
  file: PackFileName,
  paper: Paper,
  options: { readonly urgency: 'soon' | 'later'; readonly signal: AbortSignal },
): Promise<Uint8Array> {
  const asked: PackFileOrder = { chart, choices, key, file, paper };
  return runJob('pack file', asked, { ...options, home: 'press' });
}

/** Makes and saves one file of a lesson in one key. */
export function saveKeyFile(lesson: PrintedLesson, key: Key, file: PackFileName, paper: Paper): Promise<void> {
  return order({ kind: 'file', file, key }, async ({ signal }) => ({
    name: [folderOfTitle(lesson.chart.title), folderOfKey(key), file].join('-'),
    bytes: await makeFile(lesson, key, file, paper, { urgency: 'soon', signal }),
    type: TYPES[file],
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

/** Makes and saves a zip with some files in several keys and the lesson itself: what `fivespan lesson` puts into a folder. */
export function savePack(
  lesson: PrintedLesson,
  keys: readonly Key[],
  files: readonly PackFileName[],
  paper: Paper,
): Promise<void> {
  return order({ kind: 'pack', keys: keys.length }, async ({ report, signal }) => {
    const entries: ZipEntry[] = [];
    const total = keys.length * files.length;
    for (const key of keys) {
      for (const file of files) {
        const bytes = await makeFile(lesson, key, file, paper, { urgency: 'later', signal });
        entries.push({ path: packPath(key, file), bytes });
        report(entries.length, total);
      }
    }
    entries.push({ path: LESSON_FILE, bytes: documentOf(lesson) });
    const bytes = await runJob<readonly ZipEntry[], Uint8Array>('zip', entries, { urgency: 'later', signal });
    return { name: `${folderOfTitle(lesson.chart.title)}.zip`, bytes, type: TYPES.zip };
  });
}
