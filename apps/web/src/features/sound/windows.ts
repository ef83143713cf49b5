/** Length of a window, in seconds of the piece. Short: between two of them other jobs get their turn. */
export const WINDOW_SECONDS = 4;

/** How many windows a piece has. */
export function windowsIn(endSeconds: number): number {
  return Math.max(1, Math.ceil(endSeconds / WINDOW_SECONDS));
}

/** Where a window begins and ends; the last one has whatever still comes. */
export function windowBounds(
  index: number,
  endSeconds: number,
): { readonly fromSeconds: number; readonly toSeconds: number } {
  const isLast = index >= windowsIn(endSeconds) - 1;
  return {
    fromSeconds: index * WINDOW_SECONDS,
    toSeconds: isLast ? endSeconds + WINDOW_SECONDS : (index + 1) * WINDOW_SECONDS,
  };
}
