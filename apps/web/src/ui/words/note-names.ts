import { noteText } from '@fivespan/formats/diagram';
import type { NoteName } from '@fivespan/core';

/** A function that writes note names as the user has chosen in the settings. */
export function useNoteText(): (note: NoteName) => string {
  return noteText;
}
