/** The time of day and names that nothing else has: what makes two runs differ comes from here. */

/** Milliseconds since 1970. */
export function nowMs(): number {
  return Date.now();
}

/** A name for a new thing, that nothing else has or will have. */
export function newId(): string {
  return crypto.randomUUID();
}
