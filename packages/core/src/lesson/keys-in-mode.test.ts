import { expect, test } from 'vitest';
import { messageOf } from '../issue/index.ts';
import { formatKey, parseKey, type Key } from '../theory/index.ts';
import { keysInMode } from './keys-in-mode.ts';
import { DEFAULT_CHOICES } from './lesson.ts';

const keys = (...names: string[]): Key[] => names.map((name) => parseKey(name) as Key);

test('keys of the other mode become those of the tune, each once, and that is told', () => {
  const [shownIn] = keys('F major');
  const asked = { ...DEFAULT_CHOICES, shownIn: shownIn as Key, keys: keys('F major', 'F minor', 'Db major') };
  const { choices, warnings } = keysInMode(asked, 'minor');
  expect(choices.shownIn && formatKey(choices.shownIn)).toBe('F minor');
  // D flat minor would need eight flats
  expect(choices.keys.map(formatKey)).toEqual(['F minor', 'C# minor']);
  expect(warnings.map(messageOf)).toEqual([
    'the lesson asks for F major and the tune is in minor: it is made in F minor',
    'the lesson asks for Db major and the tune is in minor: it is made in C# minor',
  ]);
});

test('keys of the mode stay as they are', () => {
  const asked = { ...DEFAULT_CHOICES, keys: keys('F minor') };
  expect(keysInMode(asked, 'minor')).toEqual({ choices: asked, warnings: [] });
});
