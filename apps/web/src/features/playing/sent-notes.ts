/** Sound that the audio thread may keep beyond what the windows there need. With the worker's own store under 200 MB. */
const MOST_BYTES = 96_000_000;

interface Sent {
  readonly number: number;
  readonly bytes: number;
  /** Windows that need it. */
  readonly windows: Set<number>;
}

/** Which rendered notes the audio thread has. Each is sent once; those unused longest are forgotten there when there are too many. */
export class SentNotes {
  readonly #mostBytes: number;
  /** Least recently used first. */
  readonly #notes = new Map<string, Sent>();
  #bytes = 0;
  #last = -1;

  constructor(mostBytes = MOST_BYTES) {
    this.#mostBytes = mostBytes;
  }

  get bytes(): number {
    return this.#bytes;
  }

  /**
   * Notes that a window needs a note.
   * @param bytes what the note takes
   * @returns the note's number, and whether it must be sent
   */
  use(name: string, window: number, bytes: number): { readonly number: number; readonly isNew: boolean } {
    const known = this.#notes.get(name);
    const note = known ?? { number: ++this.#last, bytes, windows: new Set<number>() };
    note.windows.add(window);
    if (known === undefined) this.#bytes += bytes;
    this.#notes.delete(name);
    this.#notes.set(name, note);
    return { number: note.number, isNew: known === undefined };
  }

  /**
   * Forgets what is too much.
   * @param kept windows that are on the deck or on their way there: what they need stays
   * @returns the numbers that the audio thread can forget
   */
  forget(kept: ReadonlySet<number>): number[] {
    const forgotten: number[] = [];
    for (const [name, { number, bytes, windows }] of this.#notes) {
      if (this.#bytes <= this.#mostBytes) break;
      if ([...windows].some((window) => kept.has(window))) continue;
      this.#notes.delete(name);
      this.#bytes -= bytes;
      forgotten.push(number);
    }
    return forgotten;
  }
}
