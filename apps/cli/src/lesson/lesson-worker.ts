import { parentPort } from 'node:worker_threads';
import { makeLesson, type Chart, type Choices, type Key } from '@fivespan/core';
import { makePackFiles, type PackFile, type Paper } from './pack.ts';

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

parentPort?.on('message', ({ chart, choices, key, paper }: PackOrder) => {
  const say = (message: PackMessage): void => parentPort?.postMessage(message);
  const progress = { report: () => say({ kind: 'file done' }), cancelled: () => false };
  // A rejection ends the worker; the pool passes it on.
  void makePackFiles(makeLesson(chart, choices, key), paper, progress).then((files) =>
    say({ kind: 'key done', files }),
  );
});
