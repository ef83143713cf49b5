import { formatKey, typeset, type PlayedProgramme } from '@fivespan/core';
import type { Chapter } from './tags.ts';

/** A chapter for each chorus of a programme; the count-in belongs to the chorus it leads to, the ending to the last. */
export function chaptersOf({ segments }: Pick<PlayedProgramme, 'segments'>): Chapter[] {
  return segments.flatMap((segment, index): Chapter[] => {
    if (segment.kind !== 'chorus') return [];
    const before = segments[index - 1];
    const { startSeconds } = before?.kind === 'count-in' ? before : segment;
    return [
      { startSeconds, title: `${typeset(formatKey(segment.key))}, ${segment.tempoBpm} bpm, chorus ${segment.time}` },
    ];
  });
}
