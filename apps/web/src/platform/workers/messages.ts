/** What the page and a worker say to each other. Plain data. */

/** To the worker: do this, or stop doing it. */
export type WorkerOrder =
  | { readonly kind: 'run'; readonly number: number; readonly job: string; readonly order: unknown }
  | { readonly kind: 'cancel'; readonly number: number };

/** From the worker. Exactly one of `done`, `cancelled` and `failed` ends a job. */
export type WorkerReport =
  | { readonly kind: 'progress'; readonly number: number; readonly done: number; readonly total: number }
  | { readonly kind: 'done'; readonly number: number; readonly value: unknown }
  | { readonly kind: 'cancelled'; readonly number: number }
  | { readonly kind: 'failed'; readonly number: number; readonly message: string };
