import { atom } from 'nanostores';
import { hear, stopHearing, type HeardNote } from '../sound/index.ts';

export type { HeardNote } from '../sound/index.ts';

/** Why nothing is heard, where that is so. */
export const $soundFault = atom<string | null>(null);

/** Sounds something that is studied, in place of what was heard before. */
export async function sound(notes: readonly HeardNote[]): Promise<void> {
  if (notes.length === 0) return;
  try {
    await hear(notes);
    $soundFault.set(null);
  } catch (error) {
    $soundFault.set(error instanceof Error ? error.message : String(error));
  }
}

export function silence(): void {
  stopHearing();
}
