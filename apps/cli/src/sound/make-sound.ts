import { Worker } from 'node:worker_threads';
import type { SoundMessage, SoundOrder } from './sound-order.ts';

/** A made file, or what stands in its way. */
export type MadeSound = Exclude<SoundMessage, { kind: 'progress' }>;

/**
 * Makes one file in a worker, so that the terminal answers meanwhile.
 * @param onProgress called now and then
 * @param signal ends the work: the worker is stopped and the promise rejects with the signal's reason
 */
export async function makeSound(
  order: SoundOrder,
  onProgress: (message: Extract<SoundMessage, { kind: 'progress' }>) => void,
  signal: AbortSignal,
): Promise<MadeSound> {
  // the bundle's pieces lie in one folder
  const worker = new Worker(new URL('sound-worker.js', new URL('.', import.meta.url)));
  try {
    return await new Promise<MadeSound>((resolve, reject) => {
      worker.on('message', (message: SoundMessage) => {
        if (message.kind === 'progress') onProgress(message);
        else resolve(message);
      });
      worker.on('error', reject);
      signal.addEventListener('abort', () => reject(signal.reason as Error));
      worker.postMessage(order);
    });
  } finally {
    await worker.terminate();
  }
}
