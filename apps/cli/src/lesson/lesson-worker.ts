import { parentPort } from 'node:worker_threads';
import {
  computeLesson,
  type Chart,
  type Choices,
  type Issue,
  type Key,
  type PackFileName,
  type PartReader,
} from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { makePackFiles, type PackFile } from './pack.ts';

/** One key to make. */
export interface PackOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
  readonly paper: Paper;
  readonly names: readonly PackFileName[];
  /** Who in the band gets a part. */
  readonly readers: readonly PartReader[];
}

/** What a worker says: a file more is done, all files of the key are here, or what stands in their way. */
export type PackMessage =
  | { readonly kind: 'file done' }
  | { readonly kind: 'key done'; readonly files: readonly PackFile[] }
  | { readonly kind: 'faults'; readonly issues: readonly Issue[] };

const say = (message: PackMessage): void => parentPort?.postMessage(message);

parentPort?.on('message', ({ chart, choices, key, paper, names, readers }: PackOrder) => {
  const lesson = computeLesson(chart, choices, key);
  if (!lesson.ok) {
    say({ kind: 'faults', issues: lesson.issues });
    return;
  }
  // A rejection ends the worker with its error, which the pool passes on.
  const files = makePackFiles(lesson.value, paper, names, readers, () => say({ kind: 'file done' }));
  void files.then((made) => say({ kind: 'key done', files: made }));
});
