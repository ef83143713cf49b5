import { parentPort } from 'node:worker_threads';
import { makeLesson, type Chart, type Choices, type Key } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { makePackFiles, type PackFile } from './pack.ts';

/** One key to make. */
export interface PackOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
  readonly paper: Paper;
}

/** What a worker says: a file more is done, or all files of the key are here. */
export type PackMessage =
  { readonly kind: 'file done' } | { readonly kind: 'key done'; readonly files: readonly PackFile[] };

const say = (message: PackMessage): void => parentPort?.postMessage(message);

parentPort?.on('message', ({ chart, choices, key, paper }: PackOrder) => {
  // A rejection ends the worker with its error, which the pool passes on.
  void makePackFiles(makeLesson(chart, choices, key), paper, () => say({ kind: 'file done' })).then((files) =>
    say({ kind: 'key done', files }),
  );
});
