import { parseKey, parseNoteName, type NoteName, type Reason } from '@fivespan/core';
import { useMemo } from 'react';
import { useKeyText } from '../words/key-text.ts';
import { useNoteText } from '../words/note-names.ts';

/** Arguments of reasons that are notes, and those that are keys; the others are chord symbols, degrees and words. */
const NOTES: ReadonlySet<string> = new Set(['note', 'to', 'passing']);
const KEYS: ReadonlySet<string> = new Set(['key', 'other']);

/** A reason whose notes and keys are named as the user has chosen in the settings. */
function named(
  { code, args }: Reason,
  noteText: (note: NoteName) => string,
  keyText: ReturnType<typeof useKeyText>,
): Reason {
  const texts = Object.entries(args).map(([name, value]): [string, string] => {
    const note = NOTES.has(name) ? parseNoteName(value) : undefined;
    const key = KEYS.has(name) ? parseKey(value) : undefined;
    return [name, note === undefined ? (key === undefined ? value : keyText(key)) : noteText(note)];
  });
  return { code, args: Object.fromEntries(texts) };
}

/** A function that names a reason's notes and keys as chosen in the settings; the same one until the choice changes. */
export function useNamedReason(): (reason: Reason) => Reason {
  const noteText = useNoteText();
  const keyText = useKeyText();
  return useMemo(() => (reason) => named(reason, noteText, keyText), [noteText, keyText]);
}
