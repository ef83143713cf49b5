import { readChart } from '@fivespan/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { headingOf, titleApart, withTitle } from './heading.ts';

describe('headingOf', () => {
  test('reads what the chart says of itself, also where bars are faulty', () => {
    const { title, key, tempoBpm } = headingOf(
      '# a note\r\ntitle: Three Lamps \r\nKey: Eb major\r\ntempo: 132 bpm\r\n| Hm7x |',
    );
    expect(title).toBe('Three Lamps');
    expect(key).not.toBeNull();
    expect(tempoBpm).toBe(132);
  });
  test('says nothing where the chart does', () => {
    expect(headingOf('| Fm7 |')).toEqual({ title: '', key: null, tempoBpm: null });
    expect(headingOf('# title: no\n| Fm7 |').title).toBe('');
  });
});

test('titleApart tells two titles apart, also the longest ones', () => {
  const second = (title: string): string => (title === '' ? 'Second' : `${title} (second)`);
  expect(titleApart('Lantern Street', second)).toBe('Lantern Street (second)');
  expect(titleApart('', second)).toBe('Second');
  for (const title of ['x'.repeat(99), '𝄞'.repeat(150)]) {
    expect(titleApart(title, second)).toMatch(/^(?:x|𝄞)+ \(second\)$/u);
    // and it is a title that can be written and read back
    expect(headingOf(withTitle('| Fm7 |', titleApart(title, second))).title).toBe(titleApart(title, second));
  }
});

describe('withTitle', () => {
  test('changes the title line and nothing else', () => {
    expect(withTitle('# mine\r\n title:  Old \r\nkey: C major\r\n| Fm7 |\r\n', 'New')).toBe(
      '# mine\r\n title:  New\r\nkey: C major\r\n| Fm7 |\r\n',
    );
    expect(withTitle('title:\n| Fm7 |', 'New')).toBe('title: New\n| Fm7 |');
  });
  test('puts one first where there is none, with the line ends of the text', () => {
    expect(withTitle('| Fm7 |\r\n| Bb7 |', 'New')).toBe('title: New\r\n| Fm7 |\r\n| Bb7 |');
    expect(withTitle('\uFEFF| Fm7 |', 'New')).toBe('\uFEFFtitle: New\n| Fm7 |');
    expect(withTitle('# title: not this\n| Fm7 |', 'New')).toContain('# title: not this\n');
  });
  test('takes a title as text: no line of it becomes another header or a bar', () => {
    const text = withTitle('title: Old\n| Fm7 |', 'a\nkey: B major\r| G7 |$&$1');
    expect(text).toBe('title: a key: B major | G7 |$&$1\n| Fm7 |');
  });

  const line = fc.oneof(
    fc.constantFrom('# title: x', 'key: Eb major', 'tempo: 120', 'A:', '| Fm7 | Bb7 |', '', '  ', '| title | x |'),
    fc.string({ maxLength: 12 }).map((text) => text.replaceAll(/[\n\r]/gu, '')),
  );
  test('whatever stands in the text, every other line stays byte for byte, and the title is read back', () => {
    const isTitle = (each: string): boolean => /^\uFEFF?\s*title:/iu.test(each);
    const check = (lines: readonly string[], end: string, title: string): void => {
      const after = withTitle(lines.join(end), title);
      const others = lines.filter((each, index) => !(isTitle(each) && index === lines.findIndex(isTitle)));
      const linesAfter = after.split(end);
      const at = linesAfter.findIndex(isTitle);
      expect(linesAfter.filter((_each, index) => index !== at).join(end)).toBe(others.join(end));
      expect(headingOf(after).title).toBe(title.replaceAll(/\s+/gu, ' ').trim());
    };
    const ends = fc.constantFrom('\n', '\r\n', '\r');
    fc.assert(fc.property(fc.array(line, { minLength: 2, maxLength: 8 }), ends, fc.string({ maxLength: 60 }), check), {
      seed: 5,
      numRuns: 300,
    });
  });
  test('what it writes, the chart’s reader reads', () => {
    const read = readChart(withTitle('| Fm7 | Bb7 |', 'Lantern: Street | 2 # 3'));
    expect(read.ok && read.value.title).toBe('Lantern: Street | 2 # 3');
  });
});
