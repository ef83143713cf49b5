import { drawSvgOnto } from '../../platform/video/index.ts';
import { FilmMaker } from './film-maker.ts';
import type { MadeStill, StillOrder } from './film-order.ts';

/** A moment of a film to be shown, and where. */
export interface PreviewAsked extends StillOrder {
  readonly canvas: HTMLCanvasElement;
}

/** Shows moments of a film, one after the other: the latest wish wins. */
export class FilmPreview {
  #maker: FilmMaker | undefined;
  #next: PreviewAsked | undefined;
  #isBusy = false;
  readonly #shown: (still: MadeStill) => void;
  readonly #failed: (error: unknown) => void;

  constructor(shown: (still: MadeStill) => void, failed: (error: unknown) => void) {
    this.#shown = shown;
    this.#failed = failed;
  }

  show(asked: PreviewAsked): void {
    this.#next = asked;
    void this.#run();
  }

  /** Frees the worker; the next wish starts another. */
  close(): void {
    this.#next = undefined;
    this.#maker?.close();
    this.#maker = undefined;
  }

  async #run(): Promise<void> {
    if (this.#isBusy) return;
    this.#isBusy = true;
    while (this.#next !== undefined) {
      const { canvas, ...order } = this.#next;
      this.#next = undefined;
      try {
        this.#maker ??= new FilmMaker();
        const still = await this.#maker.still(order);
        await drawSvgOnto(canvas, still.svg);
        this.#shown(still);
      } catch (error) {
        this.#failed(error);
      }
    }
    this.#isBusy = false;
  }
}
