import { atom } from 'nanostores';

/** Whether a screen wants the whole window: the frame round it is gone while the hands are on the keys. */
export const $immersed = atom(false);

/** A screen says so when playing starts, and takes it back when it ends or the screen is left. */
export function setImmersed(immersed: boolean): void {
  $immersed.set(immersed);
}
