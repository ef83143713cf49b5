import { parentPort } from 'node:worker_threads';
import { makeLesson, type Chart, type Choices, type Key, type PartReader } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { makePackFiles, type PackFile } from './pack.ts';

/** One key to make. */
export interface PackOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
  readonly paper: Paper;
  /** Who in the band gets a part. */
  readonly readers: readonly PartReader[];
}

/** What a worker says: a file more is done, or all files of the key are here. */
export type PackMessage =
  { readonly kind: 'file done' } | { readonly kind: 'key done'; readonly files: readonly PackFile[] };

const say = (message: PackMessage): void => parentPort?.postMessage(message);

parentPort?.on('message', ({ chart, choices, key, paper, readers }: PackOrder) => {
  // A rejection ends the worker with its error, which the pool passes on.
  const files = makePackFiles(makeLesson(chart, choices, key), paper, readers, () => say({ kind: 'file done' }));
  void files.then((made) => say({ kind: 'key done', files: made }));
});
