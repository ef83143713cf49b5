/** A teacher whose work at the workbench is counted in seconds. */
import type { Locator } from 'playwright-core';

/**
 * A practised person's seconds: the keystroke-level model (Card, Moran and Newell 1980; M): think, point and press with a mouse, strike a
 * key, change hands. The machine's own time is not work.
 */
export const SECONDS = { think: 1.35, point: 1.1, press: 0.2, key: 0.28, changeHands: 0.4 } as const;

/** Does what a teacher does, and counts the work of it: fields by Tab and keys, the rest by mouse. */
export class TimedTeacher {
  seconds = 0;
  isAtKeys = false;
  #take(isAtKeys: boolean, seconds: number): void {
    this.seconds += SECONDS.think + seconds + (this.isAtKeys === isAtKeys ? 0 : SECONDS.changeHands);
    this.isAtKeys = isAtKeys;
  }
  async press(button: Locator): Promise<void> {
    this.#take(false, SECONDS.point + SECONDS.press);
    await button.click();
  }
  async type(field: Locator, text: string): Promise<void> {
    this.#take(true, (1 + text.length) * SECONDS.key);
    await field.fill(text);
  }
  /** By its first letters and an arrow. */
  async choose(list: Locator, label: string): Promise<void> {
    this.#take(true, 4 * SECONDS.key);
    await list.selectOption({ label });
  }
}
