import { drawSvg } from '../../platform/video/index.ts';
import { startFilmWorker } from '../../platform/video/film-worker-of.ts';
import { fetchVoice } from './voice-sources.ts';
import type {
  FetchedVoice,
  FilmOrder,
  FilmStage,
  FromFilmWorker,
  MadeFilm,
  MadeStill,
  StillOrder,
  ToFilmWorker,
  VoicePlace,
} from './film-order.ts';

/** A film that could not be made. */
export class FilmFault extends Error {
  override readonly name = 'FilmFault';
  readonly isDiskFull: boolean;

  constructor(message: string, isDiskFull: boolean) {
    super(message);
    this.isDiskFull = isDiskFull;
  }
}

export interface FilmAsking {
  readonly report?: (stage: FilmStage, done: number, total: number) => void;
  readonly signal?: AbortSignal;
}

/** The page's side of making films: a worker makes them, one at a time, and has this page draw. */
export class FilmMaker {
  readonly #worker = startFilmWorker();
  /** It takes more memory than all the rest, and is there only while lines are engraved. */
  #engraver: Worker | undefined;

  #send(message: ToFilmWorker, transfer: Transferable[] = []): void {
    this.#worker.postMessage(message, transfer);
  }

  /** Makes a film; its bytes go to the order's sink. Rejects with the signal's reason, or a FilmFault. */
  async make(order: FilmOrder, asking: FilmAsking = {}): Promise<MadeFilm> {
    const answer = await this.#ask({ kind: 'make', order }, asking);
    if (answer.kind !== 'made') throw new TypeError(`the worker must answer with a film, not '${answer.kind}'`);
    return answer.film;
  }

  /** A frame to look at. */
  async still(order: StillOrder, asking: FilmAsking = {}): Promise<MadeStill> {
    const answer = await this.#ask({ kind: 'still', order }, asking);
    if (answer.kind !== 'made still') throw new TypeError(`the worker must answer with a still, not '${answer.kind}'`);
    return answer.still;
  }

  close(): void {
    this.#worker.terminate();
    this.#closeEngraver();
  }

  /** Has another worker engrave, started when it is first asked for. */
  #engrave(message: Extract<FromFilmWorker, { kind: 'engrave' }>): void {
    if (this.#engraver === undefined) {
      const engraver = startFilmWorker();
      engraver.addEventListener('message', ({ data }: MessageEvent<FromFilmWorker>) => {
        if (data.kind === 'engraved') this.#send(data);
      });
      engraver.addEventListener('error', (event) => {
        event.preventDefault();
        this.#send({ kind: 'engraved', number: message.number, systems: null });
      });
      this.#engraver = engraver;
    }
    this.#engraver.postMessage(message satisfies ToFilmWorker);
  }

  #closeEngraver(): void {
    this.#engraver?.terminate();
    this.#engraver = undefined;
  }

  async #draw(number: number, svg: string, width: number, height: number): Promise<void> {
    try {
      const bitmap = await drawSvg(svg, width, height);
      this.#send({ kind: 'drawn', number, bitmap }, [bitmap]);
    } catch (error) {
      this.#send({ kind: 'not drawn', number, message: error instanceof Error ? error.message : String(error) });
    }
  }

  async #hear(number: number, place: VoicePlace): Promise<void> {
    const voice = await fetchVoice(place).catch((): FetchedVoice => ({ ok: false, fault: 'unreadable' }));
    this.#send({ kind: 'heard', number, voice }, voice.ok ? [voice.samples.buffer] : []);
  }

  #ask(message: ToFilmWorker, { report, signal }: FilmAsking) {
    return new Promise<Extract<FromFilmWorker, { kind: 'made' | 'made still' }>>((resolve, reject) => {
      const end = new AbortController();
      const over = (act: () => void): void => {
        end.abort();
        act();
      };
      signal?.addEventListener('abort', () => this.#send({ kind: 'cancel' }), { signal: end.signal });
      this.#worker.addEventListener(
        'message',
        ({ data }: MessageEvent<FromFilmWorker>) => {
          if (data.kind === 'draw') void this.#draw(data.number, data.svg, data.width, data.height);
          else if (data.kind === 'engrave') this.#engrave(data);
          else if (data.kind === 'engraved' || data.kind === 'all engraved') this.#closeEngraver();
          else if (data.kind === 'hear') void this.#hear(data.number, data.voice);
          else if (data.kind === 'progress') report?.(data.stage, data.done, data.total);
          else if (data.kind === 'failed') over(() => reject(new FilmFault(data.message, data.isDiskFull)));
          else if (data.kind === 'cancelled')
            over(() => reject((signal?.reason as Error | undefined) ?? new DOMException('cancelled', 'AbortError')));
          else over(() => resolve(data));
        },
        { signal: end.signal },
      );
      this.#worker.addEventListener(
        'error',
        (event) => {
          event.preventDefault();
          over(() => reject(new FilmFault(event.message === '' ? 'the film’s worker stopped' : event.message, false)));
        },
        { signal: end.signal },
      );
      this.#send(message);
    });
  }
}
