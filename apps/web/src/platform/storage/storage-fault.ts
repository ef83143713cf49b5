import type { Issue } from '@fivespan/core';

/** What stands in the way of keeping things on this machine. */
export type StorageFault =
  | { readonly kind: 'refused' } // the browser allows no storage here
  | { readonly kind: 'full' }
  | { readonly kind: 'unproved' } // the browser says it is written, after it could not: not found on the disk yet
  | { readonly kind: 'newer' } // a newer version of this program has written here
  | { readonly kind: 'too-large' } // longer than any lesson that can be read back
  | { readonly kind: 'unreadable'; readonly issues: readonly Issue[] } // it could not be read back
  | { readonly kind: 'slow'; readonly seconds: number } // the browser did not open its storage
  | { readonly kind: 'failed'; readonly message: string };

/** Thrown and caught in this folder: the database was made by a newer version of this program. */
export class NewerDatabase extends Error {
  override readonly name = 'NewerDatabase';
}

/** Thrown and caught in this folder: the browser has not opened its storage in time. */
export class OpeningTooSlow extends Error {
  override readonly name = 'OpeningTooSlow';
  readonly seconds: number;

  constructor(seconds: number) {
    super();
    this.seconds = seconds;
  }
}

/** Names of exceptions. Sources: Indexed Database API 3.0 (W3C), 'Exceptions'; Dexie.errnames; Storage Standard (WHATWG). */
const FAULT_OF: Readonly<Record<string, 'refused' | 'full' | 'newer'>> = {
  QuotaExceededError: 'full',
  VersionError: 'newer',
  NewerDatabase: 'newer',
  MissingAPIError: 'refused',
  SecurityError: 'refused',
  NotAllowedError: 'refused',
  InvalidStateError: 'refused',
};

/**
 * How browsers word that there is no room where the exception has another name. Sources: Chromium's and Firefox's
 * messages (from memory).
 */
const NO_ROOM = /quota|no[ _]space|ENOSPC|disk (?:is )?full|not enough (?:disk )?space/iu;

/**
 * What an exception of the database means. A transaction that was given up names its cause inside, or in its message
 * alone.
 * @example faultOf(new DOMException('', 'QuotaExceededError')) // → { kind: 'full' }
 */
export function faultOf(error: unknown): StorageFault {
  if (error instanceof OpeningTooSlow) return { kind: 'slow', seconds: error.seconds };
  const seen = new Set<unknown>();
  for (let each = error; each instanceof Error && !seen.has(each); each = (each as { inner?: unknown }).inner) {
    seen.add(each);
    const kind = FAULT_OF[each.name] ?? (NO_ROOM.test(each.message) ? 'full' : undefined);
    if (kind !== undefined) return { kind };
  }
  return { kind: 'failed', message: error instanceof Error ? error.message : String(error) };
}
