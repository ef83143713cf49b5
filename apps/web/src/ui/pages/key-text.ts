import type { Key } from '@fivespan/core';
import { useNoteText } from '../words/note-names.ts';
import { words } from '../words/index.ts';

/** A function that writes keys as the user has chosen to read notes. */
export function useKeyText(): (key: Key) => string {
  const noteText = useNoteText();
  return ({ tonic, mode }) => words.pages.keyName(noteText(tonic), mode);
}
