import type { AudioOut, DeckReport } from '../../platform/audio/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { HearOrder, HeardWindow } from './hear-job.ts';
import { instrumentOf, type HeardNote } from './heard-note.ts';
import { sourceFor } from './sound-out.ts';
import { SOUND_HOME } from './sound-source.ts';
import { WINDOW_SECONDS, windowsIn } from './windows.ts';

/** Windows on the desk's deck at a time, the one that sounds included: a whole form's notes would be hundreds of megabytes. */
const WINDOWS_KEPT = 3;

/** Where one is in what is heard, by the audio clock. */
export type HeardPlace =
  // asked for, and nothing of it has left the loudspeaker
  | { readonly kind: 'coming' }
  | { readonly kind: 'sounding'; readonly seconds: number }
  // it is at its end, or something else is heard in its place
  | { readonly kind: 'over' };

let pieces = 0;

/** Notes on their way to the loudspeaker, a window at a time. */
export class Hearing {
  readonly #out: AudioOut;
  readonly #piece = ++pieces;
  readonly #windows: readonly (readonly HeardNote[])[];
  readonly #whole: Pick<HearOrder, 'source' | 'instruments' | 'endSeconds'>;
  readonly #signal: AbortSignal;
  readonly #failed: (error: unknown) => void;
  /** Windows on the deck, with the numbers of their notes. */
  readonly #onDeck = new Map<number, readonly number[]>();
  #notesSent = 0;
  /** The window that sounds, or will first. */
  #now = 0;
  #isBusy = false;

  /**
   * @param signal ends it
   * @param failed told when a later window cannot be made
   */
  constructor(out: AudioOut, notes: readonly HeardNote[], signal: AbortSignal, failed: (error: unknown) => void) {
    this.#out = out;
    this.#signal = signal;
    this.#failed = failed;
    const endSeconds = notes.reduce((end, note) => Math.max(end, note.startSeconds + note.durationSeconds), 0);
    this.#whole = { source: sourceFor(out), instruments: [...new Set(notes.map(instrumentOf))], endSeconds };
    const windows = Array.from({ length: windowsIn(endSeconds) }, (): HeardNote[] => []);
    for (const note of notes) windows[Math.floor(note.startSeconds / WINDOW_SECONDS)]?.push(note);
    this.#windows = windows;
  }

  /** Resolves when it is about to sound. */
  async begin(): Promise<void> {
    this.#isBusy = true;
    await this.#next('now');
    this.#isBusy = false;
    if (this.#signal.aborted) return;
    this.#out.order('desk', { kind: 'play' });
    const stop = this.#out.listen('desk', (report) => this.#follow(report));
    this.#signal.addEventListener('abort', stop, { once: true });
    void this.#run();
  }

  /** Where one is in what leaves the loudspeaker now. */
  at(): HeardPlace {
    if (this.#signal.aborted) return { kind: 'over' };
    const heard = this.#out.positionNow('desk');
    // what was before may still be on its way to the ear
    if (heard?.piece !== this.#piece || heard.state === 'paused') return { kind: 'coming' };
    return heard.state === 'ended' ? { kind: 'over' } : { kind: 'sounding', seconds: heard.positionSeconds };
  }

  #follow({ piece, positionSeconds, state }: DeckReport): void {
    if (piece !== this.#piece || state === 'paused' || state === 'ended') return;
    this.#now = Math.min(this.#windows.length - 1, Math.floor(positionSeconds / WINDOW_SECONDS));
    void this.#run();
  }

  async #run(): Promise<void> {
    if (this.#isBusy) return;
    this.#isBusy = true;
    try {
      while (await this.#next('soon'));
    } catch (error) {
      if (!this.#signal.aborted) this.#failed(error);
    }
    this.#isBusy = false;
  }

  /** @returns whether there was a window to bring */
  async #next(urgency: 'now' | 'soon'): Promise<boolean> {
    const last = Math.min(this.#windows.length, this.#now + WINDOWS_KEPT);
    let index = this.#now;
    while (index < last && this.#onDeck.has(index)) index++;
    const notes = this.#windows[index];
    if (this.#signal.aborted || index >= last || notes === undefined) return false;
    const { piece, delivery } = await runJob<HearOrder, HeardWindow>(
      'hear',
      { ...this.#whole, index, notes, firstNumber: this.#notesSent },
      { urgency, signal: this.#signal, home: SOUND_HOME },
    );
    if (this.#signal.aborted) return false;
    this.#notesSent += delivery.notes.length;
    if (this.#onDeck.size === 0) this.#out.order('desk', { kind: 'begin', number: this.#piece, piece });
    const forgotten = this.#dropBehind();
    this.#onDeck.set(
      index,
      delivery.notes.map(({ number }) => number),
    );
    this.#out.put('desk', { ...delivery, forgotten });
    return true;
  }

  /** @returns the numbers of the notes that no window names any more */
  #dropBehind(): readonly number[] {
    const behind = [...this.#onDeck].filter(([window]) => window < this.#now);
    if (behind.length === 0) return [];
    this.#out.order('desk', { kind: 'drop', windows: behind.map(([window]) => window) });
    for (const [window] of behind) this.#onDeck.delete(window);
    return behind.flatMap(([, numbers]) => numbers);
  }
}
