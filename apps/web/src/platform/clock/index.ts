/** The time of day and names that nothing else has: what makes two runs differ comes from here. */

/** Milliseconds since 1970. */
export function nowMs(): number {
  return Date.now();
}

/** A name for a new thing, that nothing else has or will have. */
export function newId(): string {
  return crypto.randomUUID();
}

/**
 * The day it is where the user is, for names of files.
 * @example dayText() // → '2026-11-25'
 */
export function dayText(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
