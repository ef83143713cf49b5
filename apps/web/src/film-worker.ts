/** The file a film's worker runs: it answers its page, which draws for it. */
import { filmJob, makeStill, type FilmWatch } from './features/film/film-job.ts';
import { workerEngraver } from './features/engraving/worker-engraver.ts';
import { breathe } from './platform/workers/breathe.ts';
import type { FetchedVoice, FromFilmWorker, ToFilmWorker } from './features/film/film-order.ts';

interface Scope {
  addEventListener(type: 'message', listener: (event: MessageEvent<ToFilmWorker>) => void): void;
  postMessage(message: FromFilmWorker): void;
}

const scope = globalThis as unknown as Scope;
const drawing = new Map<number, { resolve: (bitmap: ImageBitmap) => void; reject: (error: Error) => void }>();
const hearing = new Map<number, (voice: FetchedVoice) => void>();
let drawn = 0;
const engraving = new Map<number, { resolve: (systems: readonly string[]) => void; reject: (error: Error) => void }>();
let heard = 0;
let engraved = 0;
let isCancelled = false;

const watch: FilmWatch = {
  report: (stage, done, total) => scope.postMessage({ kind: 'progress', stage, done, total }),
  cancelled: () => isCancelled,
  breathe,
  draw: (svg, width, height) =>
    new Promise((resolve, reject) => {
      const number = ++drawn;
      drawing.set(number, { resolve, reject });
      scope.postMessage({ kind: 'draw', number, svg, width, height });
    }),
  hear: (voice) =>
    new Promise((resolve) => {
      const number = ++heard;
      hearing.set(number, resolve);
      scope.postMessage({ kind: 'hear', number, voice });
    }),
  engrave: (asked) =>
    new Promise((resolve, reject) => {
      const number = ++engraved;
      engraving.set(number, { resolve, reject });
      scope.postMessage({ kind: 'engrave', number, asked });
    }),
  allEngraved: () => scope.postMessage({ kind: 'all engraved' }),
};

async function answer(work: () => Promise<FromFilmWorker | undefined>): Promise<void> {
  try {
    scope.postMessage((await work()) ?? { kind: 'cancelled' });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const isDiskFull = error instanceof DOMException && error.name === 'QuotaExceededError';
    scope.postMessage(isCancelled ? { kind: 'cancelled' } : { kind: 'failed', message, isDiskFull });
  }
}

scope.addEventListener('message', ({ data }) => {
  switch (data.kind) {
    case 'make':
      isCancelled = false;
      void answer(async () => {
        const film = await filmJob(data.order, watch);
        return film === undefined ? undefined : { kind: 'made', film };
      });
      break;
    case 'still':
      isCancelled = false;
      void answer(async () => {
        const still = await makeStill(data.order, watch);
        return still === undefined ? undefined : { kind: 'made still', still };
      });
      break;
    case 'drawn':
      drawing.get(data.number)?.resolve(data.bitmap);
      drawing.delete(data.number);
      break;
    case 'not drawn':
      drawing.get(data.number)?.reject(new Error(data.message));
      drawing.delete(data.number);
      break;
    case 'heard':
      hearing.get(data.number)?.(data.voice);
      hearing.delete(data.number);
      break;
    case 'engrave':
      // this worker is the one that engraves for another
      void workerEngraver()
        .then((engraver) => engraver.engrave(...data.asked))
        .catch(() => null)
        .then((systems) => scope.postMessage({ kind: 'engraved', number: data.number, systems }));
      break;
    case 'engraved':
      if (data.systems === null) engraving.get(data.number)?.reject(new Error('the notes cannot be engraved'));
      else engraving.get(data.number)?.resolve(data.systems);
      engraving.delete(data.number);
      break;
    case 'cancel':
      isCancelled = true;
      break;
  }
});
