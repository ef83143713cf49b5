import { expect, test } from 'vitest';
import { STUDY_WORDS } from './study.ts';

// docs/chord-scales.md, 'Inside and outside': a function's own usual scale is inside though some of its notes leave the key
test.each([
  [true, 0, 0, 'inside'],
  [true, 0, 2, 'usual here, 2 notes outside'],
  [false, 0, 1, '1 note outside'],
  [false, 1, 2, '1 guide tone lost and 2 notes outside'],
])('where a chord-scale lies: inside %s, %d lost, %d outside', (inside, guideTonesLost, notesOutsideKey, said) => {
  expect(STUDY_WORDS.where({ inside, outsideness: { guideTonesLost, notesOutsideKey } })).toBe(said);
});
