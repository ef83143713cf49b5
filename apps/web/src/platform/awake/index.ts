/** Keeps the screen from going dark while someone's hands are on the keys. */

let wanted = false;
let held: WakeLockSentinel | undefined;

async function hold(): Promise<void> {
  if (!wanted || held !== undefined || document.visibilityState !== 'visible') return;
  try {
    const lock = await navigator.wakeLock.request('screen');
    lock.addEventListener('release', () => (held = undefined));
    held = lock;
    if (!wanted) await lock.release();
  } catch {
    // this browser has no such thing, or saves its battery: the screen does what it does
  }
}

// a page that is hidden loses its lock; shown again, it wants it back
if ('document' in globalThis) document.addEventListener('visibilitychange', () => void hold());

/** Keeps the screen awake from now on, or no longer. Where the browser cannot, nothing happens. */
export function keepAwake(awake: boolean): void {
  wanted = awake;
  if (awake) void hold();
  else void held?.release();
}
