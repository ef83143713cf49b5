import { PARTS } from '../parts/index.ts';
import type { Score, ScoreNote } from '../score/index.ts';

/** What the lesson writes for one hand at the piano: its line, empty where it has none. */
export function writtenFor({ staves }: Score, hand: 'right' | 'left'): readonly ScoreNote[] {
  const part = PARTS.find((each) => each.group === 'piano' && each.hand === hand);
  return staves.find(({ role }) => role === part?.staff)?.notes ?? [];
}
