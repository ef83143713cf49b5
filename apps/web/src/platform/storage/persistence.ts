/** Whether the browser has promised not to clear what is kept here when space runs short. */
export type Persistence = 'promised' | 'refused' | 'unknown';

const KEY = 'fivespan.asked-to-persist';

function wasAsked(): boolean {
  try {
    return localStorage.getItem(KEY) !== null;
  } catch {
    return true;
  }
}

/** What the browser has promised so far, without asking it. */
export async function persistence(): Promise<Persistence> {
  try {
    if (await navigator.storage.persisted()) return 'promised';
  } catch {
    // not there: nothing is promised
  }
  return wasAsked() ? 'refused' : 'unknown';
}

/** Asks for the promise, once in this browser: some ask their user. */
export async function askToPersist(): Promise<Persistence> {
  const before = await persistence();
  if (before !== 'unknown') return before;
  try {
    localStorage.setItem(KEY, 'yes');
    return (await navigator.storage.persist()) ? 'promised' : 'refused';
  } catch {
    return 'refused';
  }
}
