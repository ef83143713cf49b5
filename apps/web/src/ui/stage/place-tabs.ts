/** Where tabs hang: each below its key, moved apart like the heads of a second where two would cover each other. */

/** Between tabs, and how a tab is proportioned, in its letters' size. */
const GAP_PX = 3;
const PASSES = 40;

/** Widths of letters and signs in the sans at 600, in its size: wide enough, so that nothing touches the outline. */
const SIGN_EM: Readonly<Record<string, number>> = {
  '♭': 0.42,
  '♯': 0.48,
  '𝄫': 0.7,
  '𝄪': 0.58,
  '′': 0.28,
  '″': 0.44,
  '‴': 0.6,
};
const LETTER_EM = 0.6;
const SIDES_EM = 0.52;

/** How wide a tab is for its name. */
export function tabWidthPx(name: string, sizePx: number): number {
  const letters = [...name].reduce((sum, letter) => sum + (SIGN_EM[letter] ?? LETTER_EM), 0);
  return (letters + SIDES_EM) * sizePx;
}

export interface TabRoom {
  readonly keyX: number;
  readonly width: number;
}

/**
 * Middles of tabs in one row: none covers another, none leaves the picture, each as near its key as that allows.
 * @param tabs in any order; of two on one key the one named first hangs to the left
 * @example placeInRow([{ keyX: 50, width: 40 }, { keyX: 60, width: 40 }], 200) // → [33.5, 76.5]
 */
export function placeInRow(tabs: readonly TabRoom[], widthPx: number): number[] {
  const order = tabs.map((_, index) => index).sort((a, b) => (tabs[a]?.keyX ?? 0) - (tabs[b]?.keyX ?? 0) || a - b);
  const at = tabs.map(({ keyX }) => keyX);
  const inside = (index: number): void => {
    const half = (tabs[index]?.width ?? 0) / 2;
    at[index] = Math.max(half, Math.min(widthPx - half, at[index] ?? 0));
  };
  for (let pass = 0; pass < PASSES; pass++) {
    let isMoved = false;
    for (const index of order) inside(index);
    for (const [place, right] of order.entries()) {
      const left = order[place - 1];
      if (left === undefined) continue;
      const apart = ((tabs[left]?.width ?? 0) + (tabs[right]?.width ?? 0)) / 2 + GAP_PX;
      const missing = apart - ((at[right] ?? 0) - (at[left] ?? 0));
      if (missing <= 0.01) continue;
      at[left] = (at[left] ?? 0) - missing / 2;
      at[right] = (at[right] ?? 0) + missing / 2;
      isMoved = true;
    }
    if (!isMoved) break;
  }
  for (const index of order) inside(index);
  return at;
}
