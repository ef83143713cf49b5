import { noteTextIn, type NoteName } from '@fivespan/core';
import { useCallback } from 'react';
import { $settings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';

/** A function that writes note names as the user has chosen in the settings; the same one until the choice changes. */
export function useNoteText(): (note: NoteName) => string {
  const { noteNames } = useStore($settings);
  return useCallback((note) => noteTextIn(noteNames, note), [noteNames]);
}
