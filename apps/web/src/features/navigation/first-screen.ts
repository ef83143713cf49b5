/** The first screen goes first: workers and what is kept for offline use wait until it is there. */
let tell: (() => void) | undefined;

/** Kept from when the first screen is there and can be used. */
export const firstScreen: Promise<void> = new Promise((resolve) => {
  tell = resolve;
});

/** A screen is there. */
export function screenIsThere(): void {
  tell?.();
}
