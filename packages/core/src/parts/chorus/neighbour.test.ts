import { expect, test } from 'vitest';
import { formatNoteName, midi, parseKey, parseNoteName, type Key, type NoteName } from '../../theory/index.ts';
import { neighbourName } from './neighbour.ts';

const note = (text: string): NoteName => parseNoteName(text) as NoteName;

// Source: common practice
test.each([
  [64, 63, 'Eb', 'Eb major', 'E', 'into E flat from above'],
  [71, 70, 'Bb', 'F major', 'B', 'into B flat from above'],
  [71, 70, 'Bb', 'Gb major', 'Cb', 'in a key that has it'],
  [65, 66, 'F#', 'D major', 'E#', 'into F sharp from below'],
  [68, 67, 'G', 'F major', 'Ab', 'no white key under another letter'],
])('key %i into %i, %s in %s, is %s: %s', (key, goalKey, goalName, home, name) => {
  const goal = { midi: midi(goalKey), name: note(goalName) };
  expect(formatNoteName(neighbourName(key, goal, [], [], parseKey(home) as Key))).toBe(name);
});

test("the chord's own name comes first, then the scale's where the letter beside is a white key's", () => {
  const goal = { midi: midi(63), name: note('Eb') };
  const home = parseKey('Eb major') as Key;
  expect(formatNoteName(neighbourName(64, goal, [note('Fb')], [], home))).toBe('Fb');
  expect(formatNoteName(neighbourName(64, goal, [], [note('Fb')], home))).toBe('Fb');
});
