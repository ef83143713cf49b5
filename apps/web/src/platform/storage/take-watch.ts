/** Which takes belong to a page that is open, and which were to be gone when it closed. */

const KEY = 'fivespan.takes-to-drop';
const LOCK = 'fivespan-take-';

/** Absent where the page is not served securely, and outside a browser. */
const locksHere = (): LockManager | undefined =>
  (globalThis as { readonly navigator?: { readonly locks?: LockManager } }).navigator?.locks;

/** Says that a take belongs to this page as long as it is open: another page leaves it alone. @returns how to let go of it */
export function holdTake(id: string): () => void {
  let letGo = (): void => undefined;
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  void locksHere()
    ?.request(LOCK + id, () => held)
    .catch(() => undefined);
  return letGo;
}

/** Takes that belong to pages that are open, this one among them. */
export async function heldTakes(): Promise<ReadonlySet<string>> {
  const { held = [] } = (await locksHere()?.query()) ?? {};
  return new Set(held.flatMap(({ name }) => (name?.startsWith(LOCK) === true ? [name.slice(LOCK.length)] : [])));
}

/**
 * When the page is closed, what `ids` names is to go: it is noted at once, since a database may not answer any more, and `drop` is
 * called, which may succeed. Called once.
 */
export function dropAtClosing(ids: () => readonly string[], drop: (ids: readonly string[]) => void): void {
  addEventListener('pagehide', ({ persisted }) => {
    // it may come back as it was
    if (persisted || ids().length === 0) return;
    try {
      localStorage.setItem(KEY, JSON.stringify([...noted(), ...ids()].slice(-1000)));
    } catch {
      // refused: what is not dropped now is offered once at the next opening
    }
    drop(ids());
  });
}

function noted(): string[] {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(KEY) ?? '[]');
    return Array.isArray(found) ? found.filter((each): each is string => typeof each === 'string') : [];
  } catch {
    return [];
  }
}

/** Takes that were to go when a page was closed. */
export function takesToDrop(): readonly string[] {
  return noted();
}

export function areDropped(): void {
  try {
    localStorage.removeItem(KEY);
  } catch {
    // refused: nothing was noted either
  }
}
