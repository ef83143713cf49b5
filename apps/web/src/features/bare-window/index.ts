/** Play's picture without any control, in a window of its own: to be filmed, shared or shown. */
import { atom } from 'nanostores';
import { openBareWindow, type BareGround, type BareWindow } from '../../platform/bare-window/index.ts';

export { BARE_GROUNDS, type BareGround } from '../../platform/bare-window/index.ts';

/** The window that is open. */
export interface OpenBareWindow {
  readonly place: HTMLElement;
  readonly ground: BareGround;
}

export const $bareWindow = atom<OpenBareWindow | null>(null);

let shown: BareWindow | undefined;

/**
 * Shows the picture in a window of its own, or on another ground in the one that is open. Within a click.
 * @returns whether the browser let it be opened
 */
export function showBare(ground: BareGround, title: string): boolean {
  shown ??=
    openBareWindow(title, () => {
      shown = undefined;
      $bareWindow.set(null);
    }) ?? undefined;
  if (shown === undefined) return false;
  shown.setGround(ground);
  $bareWindow.set({ place: shown.place, ground });
  return true;
}

/** Closes it. */
export function closeBare(): void {
  shown?.close();
}
