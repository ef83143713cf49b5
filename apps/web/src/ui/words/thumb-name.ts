/** A thumb's name and the sign of its shape, as printed and as said. English; another language is another file of this shape. */
import type { NoteName } from '@fivespan/core';
import { useMemo } from 'react';
import { useNoteText } from './note-names.ts';
import { spokenNote } from './spoken.ts';

/** The signs behind a thumb's name (formats, shape-mark.ts), said; the shape used most has none. */
const SHAPE_WORDS: Readonly<Record<string, string>> = {
  '′': 'second shape',
  '″': 'third shape',
  '‴': 'fourth shape',
  '⁗': 'another shape',
};

/** What tells octaves apart, said. */
const OCTAVE_WORDS: Readonly<Record<string, string>> = { '↑': 'the higher', '↓': 'the lower' };

/** What tells shapes and octaves apart, said; empty for the shape used most. */
export function spokenMark(mark: string): string {
  return Array.from(mark, (sign) => SHAPE_WORDS[sign] ?? OCTAVE_WORDS[sign] ?? '')
    .filter((each) => each !== '')
    .join(', ');
}

/** How thumbs are called, notes as chosen in the settings. */
export interface ThumbText {
  /** `A′` */
  readonly printed: (thumb: NoteName, mark: string) => string;
  /** `A, second shape` */
  readonly said: (thumb: NoteName, mark: string) => string;
}

/** How thumbs are called; the same object until the choice of note names changes. */
export function useThumbText(): ThumbText {
  const noteText = useNoteText();
  return useMemo(
    () => ({
      printed: (thumb, mark) => noteText(thumb) + mark,
      said: (thumb, mark) => [spokenNote(thumb, noteText), spokenMark(mark)].filter((each) => each !== '').join(', '),
    }),
    [noteText],
  );
}
