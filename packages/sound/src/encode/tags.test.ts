import { expect, test } from 'vitest';
import { checkTags, tagText } from './tags.ts';

test('a text is one line without control characters, of bounded length, letters kept whole', () => {
  expect(tagText(' two\r\nlines\u0000 ')).toBe('two lines');
  expect(tagText('𝄞'.repeat(300))).toBe('𝄞'.repeat(200));
});

test('chapters stand in order of time', () => {
  expect(() => checkTags({ title: '', chapters: [{ startSeconds: -1, title: 'a' }] })).toThrow(/^startSeconds /u);
  expect(() => checkTags({ title: '', chapters: [{ startSeconds: NaN, title: 'a' }] })).toThrow(/^startSeconds /u);
});
