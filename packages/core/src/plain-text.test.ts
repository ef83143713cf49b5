import { expect, test } from 'vitest';
import { messageOf, remedyOf } from './issue/index.ts';
import { cutText, shownText } from './plain-text.ts';

test('what a terminal would obey is shown instead; all else stays', () => {
  expect(shownText('B♭ – é 夜 👍')).toBe('B♭ – é 夜 👍');
  expect(shownText('A\u001b[31m\n\u007f')).toBe('A␛[31m␊␡');
  expect(shownText('a\u009b\u202eb\ud83dc')).toBe('a\uFFFD\uFFFDb\uFFFDc');
});

test('a text is cut between characters', () => {
  expect(cutText('ab', 2)).toBe('ab');
  expect(cutText('👍👍', 3)).toBe('👍');
  expect(cutText('👍👍', 2)).toBe('👍');
  expect(cutText('', 0)).toBe('');
});

test('an issue quotes what was typed as it can be shown', () => {
  const issue = { code: 'chord.root', args: { symbol: '\u001b[2J\ud83d', nearest: '\u0007' }, place: {} } as const;
  expect(messageOf(issue)).toContain("'␛[2J\uFFFD'");
  expect(remedyOf(issue)).toContain('␇');
});
