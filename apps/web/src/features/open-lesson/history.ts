import type { Kept } from './kept.ts';

const MOST_UNDONE = 500;

/** What was kept before, and what was taken back. */
export class History {
  readonly #past: { readonly kept: Kept; readonly together: string | undefined }[] = [];
  #future: Kept[] = [];

  get canUndo(): boolean {
    return this.#past.length > 0;
  }

  get canRedo(): boolean {
    return this.#future.length > 0;
  }

  /**
   * Notes what a change is made to. Changes of one name that follow each other are taken back together.
   * @returns what was there before the first of them
   */
  note(kept: Kept, together: string | undefined): Kept {
    const last = this.#past.at(-1);
    const goesOn = together !== undefined && last?.together === together && this.#future.length === 0;
    this.#future = [];
    if (goesOn) return last.kept;
    this.#past.push({ kept, together });
    if (this.#past.length > MOST_UNDONE) this.#past.shift();
    return kept;
  }

  /** @param now goes to what can be made again */
  undo(now: Kept): Kept | undefined {
    const last = this.#past.pop();
    if (last !== undefined) this.#future.push(now);
    return last?.kept;
  }

  redo(now: Kept): Kept | undefined {
    const next = this.#future.pop();
    if (next !== undefined) this.#past.push({ kept: now, together: undefined });
    return next;
  }
}
