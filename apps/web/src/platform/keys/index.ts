/** Keys pressed anywhere on the page. */

/** A key as it goes down. */
export interface KeyPress {
  /** Its name in the UI Events standard: ' ', 'PageDown'. */
  readonly key: string;
  /** Held down so long that it repeats. */
  readonly isRepeated: boolean;
  /** Together with Ctrl, Alt or Meta: a command of the browser or the system. */
  readonly isCommand: boolean;
  /** Where the focus is on something that answers this key itself: a field any key, a button the space bar and Enter. */
  readonly isForControl: boolean;
}

/** What answers all keys by itself, and what those that press it. */
const FIELDS =
  'input, select, textarea, [contenteditable], [role="dialog"], [role="alertdialog"], [role="slider"], [role="grid"]';
const BUTTONS = 'button, a[href], summary';

function answersItself(target: EventTarget | null, key: string): boolean {
  if (!(target instanceof Element)) return false;
  return target.closest(FIELDS) !== null || ((key === ' ' || key === 'Enter') && target.closest(BUTTONS) !== null);
}

/**
 * Listens to keys. A listener that returns true has used the key up: the page then does nothing else with it.
 * @returns how to stop
 */
export function onKeyPress(listener: (press: KeyPress) => boolean): () => void {
  const hear = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || event.isComposing) return;
    const used = listener({
      key: event.key,
      isRepeated: event.repeat,
      isCommand: event.ctrlKey || event.altKey || event.metaKey,
      isForControl: answersItself(event.target, event.key),
    });
    if (used) event.preventDefault();
  };
  addEventListener('keydown', hear);
  return () => removeEventListener('keydown', hear);
}
