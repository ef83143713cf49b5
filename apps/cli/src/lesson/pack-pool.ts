import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Issue } from '@fivespan/core';
import type { PackFile } from './pack.ts';
import type { PackMessage, PackOrder } from './lesson-worker.ts';

/** A lesson that cannot be computed, a fault of ours: its issues name the bar. */
export class FaultyLesson extends Error {
  override readonly name = 'FaultyLesson';
  readonly issues: readonly Issue[];
  constructor(issues: readonly Issue[]) {
    super('the lesson could not be computed');
    this.issues = issues;
  }
}

/**
 * Makes the files of every order side by side, at most one worker a core, and gives them in the orders' order.
 * @param onFile called whenever one more file is made
 * @param signal ends the work: workers are stopped and the promise rejects with the signal's reason
 */
export async function makePacks(
  orders: readonly PackOrder[],
  onFile: () => void,
  signal: AbortSignal,
): Promise<readonly (readonly PackFile[])[]> {
  const packs: (readonly PackFile[])[] = [];
  const waiting = [...orders.entries()];
  const workers = new Set<Worker>();

  const work = async (): Promise<void> => {
    const worker = new Worker(new URL('lesson-worker.js', bundleFolder()));
    workers.add(worker);
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      const [index, order] = next;
      packs[index] = await makeOne(worker, order, onFile, signal);
    }
    await worker.terminate();
  };

  try {
    await Promise.all(Array.from({ length: Math.min(orders.length, availableParallelism()) }, work));
    return packs;
  } finally {
    await Promise.all([...workers].map((worker) => worker.terminate()));
  }
}

/** The folder the bundle runs from: the worker's file is in it, whichever piece this code was put into. */
function bundleFolder(): URL {
  return new URL('.', import.meta.url);
}

function makeOne(
  worker: Worker,
  order: PackOrder,
  onFile: () => void,
  signal: AbortSignal,
): Promise<readonly PackFile[]> {
  return new Promise((resolve, reject) => {
    const stop = (): void => finish(() => reject(signal.reason as Error));
    const fail = (error: Error): void => finish(() => reject(error));
    const hear = (message: PackMessage): void => {
      if (message.kind === 'file done') onFile();
      else if (message.kind === 'faults') fail(new FaultyLesson(message.issues));
      else finish(() => resolve(message.files));
    };
    const finish = (settle: () => void): void => {
      worker.off('message', hear).off('error', fail);
      signal.removeEventListener('abort', stop);
      settle();
    };
    worker.on('message', hear).on('error', fail);
    signal.addEventListener('abort', stop);
    if (signal.aborted) stop();
    else worker.postMessage(order);
  });
}
