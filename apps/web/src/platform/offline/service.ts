import { Workbox } from 'workbox-window';

/** The program beside the page that answers when there is no network. */
let service: Workbox | undefined;

/** Whether the new version was asked for here; another tab may play or print when one is asked for elsewhere. */
let isAsked = false;

/** Once the first screen is there its own work goes on for a moment: a lesson is computed, a picture drawn. */
const PATIENCE_MS = 1500;

async function idle(): Promise<void> {
  await new Promise((resolve) => {
    setTimeout(resolve, PATIENCE_MS);
  });
  if (!('requestIdleCallback' in globalThis)) return;
  await new Promise<void>((resolve) => {
    requestIdleCallback(() => resolve(), { timeout: 5000 });
  });
}

/** Whether this browser, at this address, can open the workbench without a network. */
export function canBeOffline(): boolean {
  return 'serviceWorker' in navigator && 'caches' in globalThis;
}

/**
 * Starts the service worker, when the page has nothing better to do: the first screen goes first.
 * @param tell `ready` once it answers for this page; `newer` when another version waits to take over, `taken` when another tab
 *   has put it in place
 */
export async function startService(tell: (what: 'ready' | 'newer' | 'taken') => void): Promise<void> {
  if (!canBeOffline()) return;
  await idle();
  service = new Workbox('./sw.js');
  service.addEventListener('waiting', () => tell('newer'));
  service.addEventListener('controlling', ({ isUpdate }) => {
    if (isUpdate !== true) return;
    if (isAsked) location.reload();
    else tell('taken');
  });
  await service.register();
  await navigator.serviceWorker.ready;
  tell('ready');
}

/** Looks whether there is a newer version. */
export async function lookForNewVersion(): Promise<void> {
  await service?.update();
}

/** Lets the waiting version take over; the page is loaded anew when it has. */
export function takeNewVersion(): void {
  isAsked = true;
  service?.messageSkipWaiting();
}

/** Loads the page anew, where another tab has put a new version in place. */
export function loadAnew(): void {
  location.reload();
}
