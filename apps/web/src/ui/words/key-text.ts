import type { Key } from '@fivespan/core';
import { useCallback } from 'react';
import { words } from './index.ts';
import { useNoteText } from './note-names.ts';

/** A function that writes keys with note names as the user has chosen in the settings; the same one until the choice changes. */
export function useKeyText(): (key: Key) => string {
  const noteText = useNoteText();
  return useCallback(({ tonic, mode }) => words.shell.key(noteText(tonic), mode), [noteText]);
}
