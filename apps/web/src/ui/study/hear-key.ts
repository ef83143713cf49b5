import type { KeyboardEvent } from 'react';
import { sound, type HeardNote } from '../../features/study/index.ts';

/** What a screen reader is told of the key. */
export const HEAR_KEY = 'H';

/**
 * Sounds something when H is pressed while the focus is in it; the innermost thing answers. The key does nothing elsewhere,
 * nor while something is typed (WCAG 2.2, 2.1.4).
 * @example <div onKeyDown={onHearKey(() => chordHeard(chord))} />
 */
export function onHearKey(notesOf: () => readonly HeardNote[]): (event: KeyboardEvent) => void {
  return (event) => {
    const isTyped = event.target instanceof HTMLSelectElement || event.target instanceof HTMLTextAreaElement;
    if (event.key.toLowerCase() !== 'h' || event.ctrlKey || event.metaKey || event.altKey || isTyped) return;
    event.preventDefault();
    event.stopPropagation();
    void sound(notesOf());
  };
}
