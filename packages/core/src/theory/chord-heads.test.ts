import { expect, test } from 'vitest';
import { headsOf } from './chord-heads.ts';
import { CHORD_KINDS_BY_SYMBOL } from './chord-kinds.ts';
import { degrees } from './degree.ts';

const row = (suffix: string, spelled: string, also: readonly string[] = []) => ({
  suffix,
  degrees: degrees(spelled),
  also,
});

test('a spelling nobody can read is refused by name, and never becomes the plain triad', () => {
  expect(() => headsOf([...CHORD_KINDS_BY_SYMBOL, row('7sus(b9)', '1 4 5 b7 b9', ['phryg'])])).toThrow(
    /'7sus\(b9\)'.*'phryg'/u,
  );
  expect(() => headsOf([...CHORD_KINDS_BY_SYMBOL, row('7sus(b9)', '1 4 5 b7 b9', [','])])).toThrow("','");
});

test("another kind's spelling or degrees are refused by name", () => {
  expect(() => headsOf([...CHORD_KINDS_BY_SYMBOL, row('7sus(b9)', '1 4 5 b7 b9', ['min7'])])).toThrow(/'m7'.*'min7'/u);
  expect(() => headsOf([...CHORD_KINDS_BY_SYMBOL, row('7dom', '1 3 5 b7')])).toThrow(/'7' and '7dom'/u);
});

test('rows stand in any order', () => {
  expect(new Map(headsOf(CHORD_KINDS_BY_SYMBOL.toReversed()))).toEqual(new Map(headsOf(CHORD_KINDS_BY_SYMBOL)));
});
