import { midi } from '@fivespan/core';
import { expect, test } from 'vitest';
import { rowsForTabs } from './tab-rows.ts';

const rows = (...thumbs: number[]) => rowsForTabs(thumbs.map((each) => midi(each)));

test('tabs of neighbours, a white key and a black one, need a second row; two white keys do not', () => {
  // D4 and E flat 4; A4 and B flat 4
  expect(rows(62, 63)).toBe(2);
  expect(rows(70, 60, 69)).toBe(2);
  // E4 and F4, B4 and C5: white keys without a black one between them
  expect(rows(64, 65)).toBe(1);
  expect(rows(71, 72)).toBe(1);
  expect(rows(62, 69, 64)).toBe(1);
  expect(rows()).toBe(1);
});

test('a hand that changes its shape has its thumb twice on one key', () => {
  expect(rowsForTabs([midi(69)], true)).toBe(2);
});
