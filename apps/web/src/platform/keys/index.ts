/** Keys pressed anywhere on the page. */

/** A key as it goes down. */
export interface KeyPress {
  /** Its name in the UI Events standard: ' ', 'PageDown'. */
  readonly key: string;
  /** Held down so long that it repeats. */
  readonly isRepeated: boolean;
  /** Together with Ctrl, Alt or Meta: a command of the browser or the system. */
  readonly isCommand: boolean;
  /** Where the focus is on something that answers keys itself: a field, a button, a link, a dialog. */
  readonly isForControl: boolean;
}

/** What answers keys by itself. */
const CONTROLS =
  'input, select, textarea, button, a[href], summary, [contenteditable], [role="dialog"], [role="slider"]';

/**
 * Listens to keys. A listener that returns true has used the key up: the page then does nothing else with it.
 * @returns how to stop
 */
export function onKeyPress(listener: (press: KeyPress) => boolean): () => void {
  const hear = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || event.isComposing) return;
    const target = event.target instanceof Element ? event.target : null;
    const used = listener({
      key: event.key,
      isRepeated: event.repeat,
      isCommand: event.ctrlKey || event.altKey || event.metaKey,
      isForControl: target?.closest(CONTROLS) != null,
    });
    if (used) event.preventDefault();
  };
  addEventListener('keydown', hear);
  return () => removeEventListener('keydown', hear);
}
