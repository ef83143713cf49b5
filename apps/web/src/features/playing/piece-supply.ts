import type { AudioOut, PieceSettings } from '../../platform/audio/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import { SOUND_HOME, sourceFor } from '../sound/index.ts';
import { loopSeconds, turnSeconds, type Course } from './course.ts';
import type { Piece } from './piece.ts';
import { windowsAhead } from './windows-ahead.ts';
import type { MadeWindow, WindowOrder } from './programme-job.ts';

/** Brings a piece's windows to the deck ahead of the music, one at a time, and takes those away that lie behind. */
export class PieceSupply {
  readonly #out: AudioOut;
  readonly #piece: Piece;
  readonly #ended = new AbortController();
  readonly #onDeck = new Set<number>();
  #wanted: readonly number[] = [];
  #isBusy = false;
  #settings: PieceSettings | undefined;
  readonly #failed: (error: unknown) => void;

  /** @param failed told when a window cannot be made */
  constructor(out: AudioOut, piece: Piece, failed: (error: unknown) => void) {
    this.#out = out;
    this.#piece = piece;
    this.#failed = failed;
  }

  /** Makes the first windows of a course; resolves when the first is on the deck. */
  async begin(course: Course): Promise<void> {
    this.#want(course.startSeconds, course);
    this.#isBusy = true;
    await this.#next();
    this.#isBusy = false;
    void this.#run();
  }

  /** Brings what comes after a position. Call it whenever the position has moved on. */
  follow(positionSeconds: number, course: Course): void {
    this.#want(positionSeconds, course);
    const behind = [...this.#onDeck].filter((window) => !this.#wanted.includes(window));
    if (behind.length > 0) this.#out.order('programme', { kind: 'drop', windows: behind });
    for (const window of behind) this.#onDeck.delete(window);
    void this.#run();
  }

  /** Brings nothing more. */
  end(): void {
    this.#ended.abort(new DOMException('another piece', 'AbortError'));
  }

  #want(positionSeconds: number, course: Course): void {
    const { jump, earlySeconds } = course;
    this.#wanted = windowsAhead({
      positionSeconds,
      endSeconds: this.#piece.endSeconds,
      jump: jump === null ? null : turnSeconds(this.#piece, jump, earlySeconds),
      loop: loopSeconds(this.#piece, course),
    });
  }

  async #run(): Promise<void> {
    if (this.#isBusy) return;
    this.#isBusy = true;
    try {
      while (await this.#next());
    } catch (error) {
      if (!this.#ended.signal.aborted) this.#failed(error);
    }
    this.#isBusy = false;
  }

  /** @returns whether there was one to bring */
  async #next(): Promise<boolean> {
    const index = this.#wanted.find((window) => !this.#onDeck.has(window));
    if (index === undefined || this.#ended.signal.aborted) return false;
    const order: WindowOrder = {
      number: this.#piece.number,
      source: sourceFor(this.#out),
      index,
      kept: [...this.#onDeck, ...this.#wanted],
    };
    const { settings, delivery } = await runJob<WindowOrder, MadeWindow>('programme window', order, {
      urgency: 'soon',
      home: SOUND_HOME,
      signal: this.#ended.signal,
    });
    if (this.#ended.signal.aborted) return false;
    if (this.#settings === undefined)
      this.#out.order('programme', { kind: 'begin', number: this.#piece.number, piece: settings });
    this.#settings ??= settings;
    this.#out.put('programme', delivery);
    this.#onDeck.add(index);
    return true;
  }
}
