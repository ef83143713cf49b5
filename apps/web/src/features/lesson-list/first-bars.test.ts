import { expect, test } from 'vitest';
import { firstBars } from './first-bars.ts';

test('reads the first four bars, as they are written', () => {
  const text = '# | no | bar\ntitle: A | B\nkey: Eb major\n\nA:\n|: Fm7 | Bb7(b9) | Ebmaj7 | % | Am7b5 D7alt :|';
  expect(firstBars(text.replace('title: A | B\n', ''))).toEqual([['Fm7'], ['Bb7(b9)'], ['Ebmaj7'], ['%']]);
});

test('leaves section names, repeats and endings out', () => {
  expect(firstBars('Bridge: | D7 | % |\n')).toEqual([['D7'], ['%']]);
  expect(firstBars('| 1. Dm7 G7 | Cm7 :|\n| 2. Cm7 |')).toEqual([['Dm7', 'G7'], ['Cm7'], ['Cm7']]);
});

test('has nothing to show of a text without bars', () => {
  expect(firstBars('title: x\nkey: C major')).toEqual([]);
  expect(firstBars('')).toEqual([]);
});
