import { expect, test } from 'vitest';
import { usualKeys } from '../../theory/index.ts';
import { folderOfTitle } from './folder-name.ts';
import { packPath } from './pack-file.ts';

test('every key has a folder of its own, in letters that every system and address takes', () => {
  const paths = [...usualKeys('major'), ...usualKeys('minor')].map((key) => packPath(key, 'play.pdf'));
  expect(new Set(paths).size).toBe(24);
  for (const path of paths) expect(path).toMatch(/^[A-G](-flat|-sharp)?-(major|minor)\/play\.pdf$/u);
});

test('a title becomes a name without a path in it, whatever is in it', () => {
  expect(folderOfTitle('../../Łódź  blå: 朝!')).toBe('łódź-blå-朝');
  expect(folderOfTitle('…')).toBe('lesson');
});
