import { describe, expect, test } from 'vitest';
import { fileNameOf } from './save-file.ts';

describe('fileNameOf', () => {
  test('keeps letters of every script', () => {
    expect(fileNameOf('Łódź blå 朝', 'lesson')).toBe('Łódź blå 朝');
  });
  test('leaves no path, hidden file or sign that reverses the ending', () => {
    for (const title of ['../../etc', 'C:\\x', '.profile', 'a\u202egpj', 'a\0b', '<script>alert(1)</script>']) {
      expect(fileNameOf(title, 'lesson')).not.toMatch(/^\.|[/\\:<>\u202e\0]/u);
    }
  });
  test('has a name where nothing is left of the title, and an end where it has none', () => {
    expect(fileNameOf('...', 'lesson')).toBe('lesson');
    expect(fileNameOf('/', 'lesson')).toBe('lesson');
    expect([...fileNameOf('é'.repeat(500), 'lesson')]).toHaveLength(120);
  });
});
