/** Starts the film's worker. */
export function startFilmWorker(): Worker {
  return new Worker(new URL('../../film-worker.ts', import.meta.url), { type: 'module' });
}
