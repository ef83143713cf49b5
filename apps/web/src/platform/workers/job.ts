import type { Progress } from '@fivespan/core';

/** What a job is given beside its order. */
export interface JobWatch extends Progress {
  /** Lets messages in: a long job awaits it between pieces of work, or it cannot learn that it was cancelled. */
  breathe(): Promise<void>;
}

/**
 * A piece of heavy work that a worker does. Order and value are plain data; bytes in `transfer` are handed over, not copied.
 * A cancelled job gives undefined.
 */
export type Job<Order, Value> = (
  order: Order,
  watch: JobWatch,
) => Promise<{ readonly value: Value; readonly transfer?: readonly Transferable[] } | undefined>;
