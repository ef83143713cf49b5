import {
  ENGINE_VERSION,
  writeLessonDocument,
  type Chart,
  type Choices,
  type DrillOrder,
  type Key,
  type LessonFileName,
} from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import type { DrillFormat, DrillSheetOrder } from './drill-sheet-job.ts';
import type { PackFileOrder } from './pack-file-job.ts';
import { makeInPieces } from './piecewise.ts';

/** A lesson as the files need it: one whose chart could be read. */
export interface PrintedLesson {
  readonly chart: Chart;
  readonly chartText: string;
  readonly choices: Choices;
}

/** A lesson as files need it; null where nothing of its chart can be read. */
export function printedLesson(
  chart: Chart | null,
  chartText: string | undefined,
  choices: Choices | undefined,
): PrintedLesson | null {
  return chart === null || chartText === undefined || choices === undefined ? null : { chart, chartText, choices };
}

/** The bytes of the lesson file. */
export const documentOf = ({ chartText, choices }: PrintedLesson): Uint8Array =>
  new TextEncoder().encode(writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION }));

/** The worker that has an open engraver: the pages that are shown and single files are made there. */
const PRESS = 'press';

/** One of several presses that work side by side; the first is the one that makes what is shown. */
export const pressAt = (place: number): string => (place === 0 ? PRESS : `${PRESS} ${place + 1}`);

/**
 * Makes one file of a lesson in one key.
 * @param options.press which press makes it; the first unless told
 */
export function makeFile(
  { chart, choices }: PrintedLesson,
  key: Key,
  file: LessonFileName,
  paper: Paper,
  options: { readonly urgency: 'soon' | 'later'; readonly signal: AbortSignal; readonly press?: string },
): Promise<Uint8Array> {
  // keys, programme and film are not printed: without them the worker sees that it has the lesson already
  const printed: Choices = { ...choices, shownIn: null, keys: [], programme: null, film: null };
  const asked: PackFileOrder = { chart, choices: printed, key, file, paper };
  const { press = PRESS, ...rest } = options;
  return makeInPieces<PackFileOrder>('pack file', asked, { ...rest, home: press });
}

/** Makes a drill's sheet, or its notation, where the pages are made. */
export function makeDrillSheet(
  { chart, choices }: PrintedLesson,
  order: DrillOrder,
  format: DrillFormat,
  paper: Paper,
  options: { readonly urgency: 'soon' | 'later'; readonly signal: AbortSignal },
): Promise<Uint8Array> {
  const asked: DrillSheetOrder = { chart, choices: { ...choices, programme: null }, order, format, paper };
  return makeInPieces<DrillSheetOrder>('drill sheet', asked, { ...options, home: PRESS });
}
