import { atom } from 'nanostores';
import { hear, stopHearing, type HeardNote, type Hearing } from '../sound/index.ts';

export type { HeardNote } from '../sound/index.ts';

/** Why nothing is heard, where that is so. */
export const $soundFault = atom<string | null>(null);

function fail(error: unknown): void {
  $soundFault.set(error instanceof Error ? error.message : String(error));
}

/**
 * Sounds something that is studied, in place of what was heard before.
 * @returns what is heard; undefined where nothing is
 */
export async function sound(notes: readonly HeardNote[]): Promise<Hearing | undefined> {
  if (notes.length === 0) return undefined;
  try {
    const hearing = await hear(notes, fail);
    $soundFault.set(null);
    return hearing;
  } catch (error) {
    fail(error);
    return undefined;
  }
}

export function silence(): void {
  stopHearing();
}
