/** What went wrong in this page since it was opened, and what it runs on. Stays here until someone saves it. */

/** Something that went wrong. */
export interface Mishap {
  /** Milliseconds since the page was opened. */
  readonly atMs: number;
  readonly message: string;
  readonly stack: string | null;
}

const MOST_KEPT = 50;
const mishaps: Mishap[] = [];

/** Writes down something that went wrong; the oldest give way. */
export function noteMishap(error: unknown): void {
  const isError = error instanceof Error;
  mishaps.push({
    atMs: Math.round(performance.now()),
    message: isError ? `${error.name}: ${error.message}` : String(error),
    stack: isError ? (error.stack ?? null) : null,
  });
  if (mishaps.length > MOST_KEPT) mishaps.shift();
}

export function mishapsSoFar(): readonly Mishap[] {
  return [...mishaps];
}

/** Writes down whatever nobody catches from now on. Called once, when the application starts. */
export function watchMishaps(): void {
  addEventListener('error', ({ error, message }) => noteMishap(error ?? message));
  addEventListener('unhandledrejection', ({ reason }) => {
    // work that was cancelled is no mishap
    if (!(reason instanceof DOMException && reason.name === 'AbortError')) noteMishap(reason);
  });
}

/** The browser and the machine, as far as they say. */
export async function surroundings(): Promise<Readonly<Record<string, unknown>>> {
  const storage = await navigator.storage?.estimate?.().catch(() => undefined);
  return {
    browser: navigator.userAgent,
    languages: navigator.languages,
    cores: navigator.hardwareConcurrency,
    window: `${innerWidth} × ${innerHeight} at ${devicePixelRatio}`,
    online: navigator.onLine,
    keptBytes: storage?.usage ?? null,
    mostBytes: storage?.quota ?? null,
    serviceWorker: navigator.serviceWorker?.controller?.state ?? null,
    openedForMs: Math.round(performance.now()),
  };
}
