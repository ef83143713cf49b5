import type { DrillKindId, Key, LessonFileName } from '@fivespan/core';
import { atom } from 'nanostores';
import { saveFile } from '../../platform/files/index.ts';
import type { DrillFormat } from './drill-sheet-job.ts';
import type { SoundKind } from './sound-file-job.ts';
import { faultOf, type OrderFault } from './order-fault.ts';

/** What is being made, as far as its name goes. */
export type OrderedThing =
  | { readonly kind: 'file'; readonly file: LessonFileName; readonly key: Key }
  | { readonly kind: 'pack'; readonly keys: number }
  | { readonly kind: 'lesson' }
  | { readonly kind: 'drill'; readonly drill: DrillKindId; readonly format: DrillFormat }
  | { readonly kind: 'sound'; readonly format: SoundKind }
  | { readonly kind: 'film'; readonly key: Key }
  | { readonly kind: 'film texts'; readonly key: Key };

/** Where an order is: `done` of `total` steps, or how it ended. */
export type OrderState =
  | {
      readonly kind: 'making';
      readonly done: number;
      readonly total: number;
      /** How long it will still take, where that is known. */
      readonly leftSeconds?: number | undefined;
    }
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
  readonly bytes: Uint8Array | Blob;
  readonly type: string;
}

/** What a maker is given: how to tell how far it is, and when to stop. */
export interface OrderWatch {
  readonly report: (done: number, total: number, leftSeconds?: number) => void;
  readonly signal: AbortSignal;
}

/**
 * Orders that could not be made and stay in the list until they are closed; of those that were, the last one is shown.
 */
const MOST_FAILED = 3;

/** Everything asked for since the application was started that is not yet forgotten, newest last. */
export const $orders = atom<readonly Order[]>([]);

const stops = new Map<number, AbortController>();
let last = 0;

function change(id: number, state: OrderState): void {
  const orders = $orders.get().map((order) => (order.id === id ? { ...order, state } : order));
  const failed = orders.filter((each) => each.state.kind === 'failed');
  const good = orders.filter((each) => each.state.kind === 'saved' || each.state.kind === 'stopped');
  // by when it ended, not by when it was asked for: the one that has just ended is shown
  const told = good.find((each) => each.id === id) ?? good.at(-1);
  const forgotten = new Set([...failed.slice(0, -MOST_FAILED), ...good.filter((each) => each !== told)]);
  $orders.set(orders.filter((each) => !forgotten.has(each)));
}

/** Makes a file while the application goes on, and hands it to the user when it is there. */
export async function order(thing: OrderedThing, make: (watch: OrderWatch) => Promise<MadeFile>): Promise<void> {
  const id = ++last;
  const stop = new AbortController();
  stops.set(id, stop);
  $orders.set([...$orders.get(), { id, thing, state: { kind: 'making', done: 0, total: 1 } }]);
  try {
    const { name, bytes, type } = await make({
      report: (done, total, leftSeconds) => {
        if (!stop.signal.aborted) change(id, { kind: 'making', done, total, leftSeconds });
      },
      signal: stop.signal,
    });
    stop.signal.throwIfAborted();
    saveFile(name, bytes, type);
    change(id, { kind: 'saved', name, bytes: bytes instanceof Uint8Array ? bytes.length : bytes.size });
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
