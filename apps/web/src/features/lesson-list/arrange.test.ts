import { describe, expect, test } from 'vitest';
import { PLAIN_ARRANGEMENT, readArrangement, type ShelfArrangement } from '../../platform/storage/index.ts';
import { arranged, foldersOf, inFolder, joined, movedBefore, withCopy } from './arrange.ts';

const lessons = ['c', 'a', 'b'].map((id) => ({ id, title: `Tune ${id}` }));
const idsOf = (arrangement: Partial<ShelfArrangement>): string =>
  arranged(lessons, { ...PLAIN_ARRANGEMENT, ...arrangement })
    .map(({ id }) => id)
    .join('');

describe('the order on the shelf', () => {
  test('as last changed, by title, by hand; what is new comes first', () => {
    expect(idsOf({})).toBe('cab');
    expect(idsOf({ order: 'title' })).toBe('abc');
    expect(idsOf({ order: 'hand', byHand: ['b', 'c', 'a'] })).toBe('bca');
    expect(idsOf({ order: 'hand', byHand: ['b', 'a'] })).toBe('cba');
  });

  test('moving begins from what is shown, and keeps those that are not', () => {
    const moved = movedBefore({ ...PLAIN_ARRANGEMENT, byHand: ['gone', 'a'] }, ['c', 'a', 'b'], 'b', 'c');
    expect(moved).toEqual({ order: 'hand', byHand: ['b', 'c', 'a', 'gone'], folders: {} });
    expect(movedBefore(PLAIN_ARRANGEMENT, ['c', 'a', 'b'], 'c', null).byHand).toEqual(['a', 'b', 'c']);
    expect(movedBefore(PLAIN_ARRANGEMENT, ['c', 'a'], 'c', 'nowhere').byHand).toEqual(['a', 'c']);
  });
});

describe('folders', () => {
  test('are there as long as something lies in them', () => {
    const one = inFolder(PLAIN_ARRANGEMENT, 'a', 'Mondays');
    expect(foldersOf(lessons, one)).toEqual(['Mondays']);
    expect(foldersOf(lessons, inFolder(one, 'a', ''))).toEqual([]);
    // of a lesson that is gone
    expect(foldersOf(lessons, inFolder(one, 'gone', 'Blues'))).toEqual(['Mondays']);
  });

  test('a copy lies beside what it was made of; a backup adds what is not known here', () => {
    const here = { order: 'hand', byHand: ['a', 'b'], folders: { a: 'Mondays' } } as const;
    expect(withCopy(here, 'a', 'copy')).toEqual({
      order: 'hand',
      byHand: ['a', 'copy', 'b'],
      folders: { a: 'Mondays', copy: 'Mondays' },
    });
    const file = { order: 'title', byHand: ['x', 'a'], folders: { a: 'Old', x: 'Blues' } } as const;
    expect(joined(here, file)).toEqual({
      order: 'hand',
      byHand: ['a', 'b', 'x'],
      folders: { a: 'Mondays', x: 'Blues' },
    });
  });

  test('what is damaged counts as none', () => {
    for (const damaged of [null, [], { byHand: 'a' }, { folders: { a: '' } }, { order: 'colour' }]) {
      expect(readArrangement(damaged)).toEqual(PLAIN_ARRANGEMENT);
    }
  });
});
