/** The time of day and names that nothing else has: what makes two runs differ comes from here. */

/** Milliseconds since 1970. */
export function nowMs(): number {
  return Date.now();
}

/** Milliseconds of a clock that is never set back, from any start. */
export function steadyMs(): number {
  return performance.now();
}

/**
 * Calls about once a second, with the seconds that have gone by.
 * @returns how to stop
 */
export function everySecond(call: (seconds: number) => void): () => void {
  let before = performance.now();
  const timer = setInterval(() => {
    const now = performance.now();
    const seconds = (now - before) / 1000;
    before = now;
    call(seconds);
  }, 900);
  return () => clearInterval(timer);
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
  return dayTextOf(Date.now());
}

/** The day a moment is in where the user is, for names of files. @param milliseconds since 1970 */
export function dayTextOf(milliseconds: number): string {
  const now = new Date(milliseconds);
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const DAY_MS = 86_400_000;

/** How many midnights lie between a moment and now, where the user is; 0 for today. @param milliseconds since 1970 */
export function daysAgo(milliseconds: number): number {
  const midnight = (moment: Date): number =>
    new Date(moment.getFullYear(), moment.getMonth(), moment.getDate()).getTime();
  // a day in spring has 23 hours
  return Math.max(0, Math.round((midnight(new Date()) - midnight(new Date(milliseconds))) / DAY_MS));
}
