import { atom } from 'nanostores';
import {
  builtFiles,
  canBeOffline,
  dropStrangers,
  keepFile,
  keptFiles,
  startService,
} from '../../platform/offline/index.ts';
import { $newVersion } from './new-version.ts';

/** How much of the workbench opens without a network. */
export type Offline =
  | { readonly kind: 'impossible' } // this browser, or this address, has no service worker
  | { readonly kind: 'starting' }
  // the screens are kept; the engraver, the sounds and the encoders as far as they have come
  | { readonly kind: 'ready'; readonly keptBytes: number; readonly allBytes: number }
  | { readonly kind: 'keeping'; readonly keptBytes: number; readonly allBytes: number }
  | { readonly kind: 'failed'; readonly keptBytes: number; readonly allBytes: number };

export const $offline = atom<Offline>(canBeOffline() ? { kind: 'starting' } : { kind: 'impossible' });

let keeping: AbortController | undefined;

const sum = (files: readonly { readonly bytes: number }[]): number =>
  files.reduce((bytes, file) => bytes + file.bytes, 0);

/** Counts anew what is kept. */
export async function countKept(): Promise<void> {
  if ($offline.get().kind === 'impossible' || $offline.get().kind === 'keeping') return;
  try {
    const files = await builtFiles();
    $offline.set({ kind: 'ready', keptBytes: sum(await keptFiles(files)), allBytes: sum(files) });
  } catch {
    // no list (the development server has none), or caches refused
    $offline.set({ kind: 'impossible' });
  }
}

/** Makes the workbench open without a network from now on. Called once, when the first screen is there. */
export async function startOffline(): Promise<void> {
  if (!canBeOffline()) return;
  try {
    await startService((what) => {
      if (what === 'newer') $newVersion.set('waits');
      if (what === 'taken') $newVersion.set('taken');
    });
    const files = await builtFiles();
    // a newer version's own page lets go of the older one's files; ours may not drop its
    if ($newVersion.get() === 'none') await dropStrangers(files);
  } catch {
    $offline.set({ kind: 'impossible' });
    return;
  }
  await countKept();
}

/** Fetches all that is not kept yet: engraver, sounds, encoders, fonts. Goes on where it was stopped. */
export async function keepEverything(): Promise<void> {
  if (keeping !== undefined) return;
  keeping = new AbortController();
  const { signal } = keeping;
  let keptBytes = 0;
  let allBytes = 0;
  try {
    const files = await builtFiles();
    const kept = new Set(await keptFiles(files));
    allBytes = sum(files);
    keptBytes = sum([...kept]);
    $offline.set({ kind: 'keeping', keptBytes, allBytes });
    for (const file of files.filter((each) => !kept.has(each))) {
      const before = keptBytes;
      await keepFile(
        file,
        (bytes) => {
          keptBytes += bytes;
          $offline.set({ kind: 'keeping', keptBytes, allBytes });
        },
        signal,
      );
      keptBytes = before + file.bytes;
    }
    $offline.set({ kind: 'ready', keptBytes, allBytes });
  } catch {
    $offline.set({ kind: signal.aborted ? 'ready' : 'failed', keptBytes, allBytes });
  } finally {
    keeping = undefined;
  }
  if ($offline.get().kind === 'ready') await countKept();
}

/** Stops fetching; what has come is kept. */
export function stopKeeping(): void {
  keeping?.abort();
}
