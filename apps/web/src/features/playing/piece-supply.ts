import type { AudioOut, PieceSettings } from '../../platform/audio/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import { SOUND_HOME, sourceFor } from '../sound/index.ts';
import { loopSeconds, turnSeconds, type Course } from './course.ts';
import type { Piece } from './piece.ts';
import { WINDOW_SECONDS, windowsIn } from './piece-window.ts';
import type { MadeWindow, WindowOrder } from './programme-job.ts';

/** Windows on the deck at a time, the one that sounds included: 16 s of music ahead at the least, at the fastest 10 s of a clock. */
const WINDOWS_KEPT = 5;

/**
 * The windows that will be needed next, in the order in which they will sound.
 * @example windowsAhead({ positionSeconds: 9, endSeconds: 100, jump: null, loop: { fromSeconds: 1, toSeconds: 11 } }) // → [2, 0, 1]
 */
export function windowsAhead({
  positionSeconds,
  endSeconds,
  jump,
  loop,
}: {
  readonly positionSeconds: number;
  readonly endSeconds: number;
  readonly jump: { readonly leave: number; readonly enter: number } | null;
  readonly loop: { readonly fromSeconds: number; readonly toSeconds: number } | null;
}): readonly number[] {
  const last = windowsIn(endSeconds) - 1;
  const ahead = new Set<number>();
  let at = Math.min(positionSeconds, endSeconds);
  let jumps = jump !== null && at < jump.leave ? jump : null;
  // more turns than windows: a short loop comes round many times without asking for another
  for (let step = 0; step < WINDOWS_KEPT * 2 && ahead.size < WINDOWS_KEPT; step++) {
    const window = Math.min(last, Math.floor(at / WINDOW_SECONDS));
    ahead.add(window);
    const ends = (window + 1) * WINDOW_SECONDS;
    if (jumps !== null && jumps.leave <= ends) {
      at = jumps.enter;
      jumps = null;
    } else if (loop !== null && at <= loop.toSeconds && loop.toSeconds <= ends) at = loop.fromSeconds;
    else if (window === last) break;
    else at = ends;
  }
  return [...ahead];
}

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
    if (this.#settings === undefined) this.#out.order('programme', { kind: 'begin', piece: settings });
    this.#settings ??= settings;
    this.#out.put('programme', delivery);
    this.#onDeck.add(index);
    return true;
  }
}
