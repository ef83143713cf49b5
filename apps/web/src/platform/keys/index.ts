/** Keys pressed anywhere on the page. */

/** A key as it goes down. */
export interface KeyPress {
  /** Its name in the UI Events standard: ' ', 'PageDown'. */
  readonly key: string;
  /** Held down so long that it repeats. */
  readonly isRepeated: boolean;
  /** Together with Ctrl, Alt or Meta: a command of the browser or the system. */
  readonly isCommand: boolean;
  /** What has the focus and answers this key itself: a field any key, a button the space bar and Enter; null where nothing does. */
  readonly control: 'field' | 'button' | null;
}

/** What answers all keys by itself, and what those that press it. A box that is ticked is pressed, not typed in. */
const PRESSED_INPUTS = 'input:is([type="checkbox"], [type="radio"], [type="button"], [type="submit"], [type="file"])';
const FIELDS = `input:not(${PRESSED_INPUTS}), select, textarea, [contenteditable], [role="dialog"], [role="alertdialog"], [role="slider"], [role="grid"]`;
const BUTTONS = `button, a[href], summary, ${PRESSED_INPUTS}`;

function controlAt(target: EventTarget | null, key: string): KeyPress['control'] {
  if (!(target instanceof Element)) return null;
  if (target.closest(FIELDS) !== null) return 'field';
  return (key === ' ' || key === 'Enter') && target.closest(BUTTONS) !== null ? 'button' : null;
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
      control: controlAt(event.target, event.key),
    });
    if (used) event.preventDefault();
  };
  addEventListener('keydown', hear);
  return () => removeEventListener('keydown', hear);
}

/**
 * Listens to keys as they are pressed and let go, by their place on the keyboard (UI Events, `code`): none that a field takes as a
 * letter, none together with Ctrl, Alt or Meta.
 * @param listener returns whether it has used the key up
 * @returns how to stop
 */
export function onHeldKeys(listener: (code: string, isDown: boolean) => boolean): () => void {
  const hear = (event: KeyboardEvent): void => {
    const isDown = event.type === 'keydown';
    if (isDown && (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey)) return;
    if (isDown && controlAt(event.target, event.key) === 'field') return;
    if (listener(event.code, isDown) && isDown) event.preventDefault();
  };
  addEventListener('keydown', hear);
  addEventListener('keyup', hear);
  return () => {
    removeEventListener('keydown', hear);
    removeEventListener('keyup', hear);
  };
}
