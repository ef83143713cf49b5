import { DEFAULT_CHOICES, readLessonDocument, writeLessonDocument } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import type { StoredLesson } from '../../platform/storage/index.ts';
import { readBackup, writeBackup, type BackedUpLesson } from './backup-document.ts';
import { compare, mergePlan, replacePlan } from './restore-plan.ts';

const lessonOf = (id: string, title: string, revision = 1): StoredLesson => ({
  id,
  title,
  document: writeLessonDocument({ chartText: `title: ${title}\n| Fm7 |`, choices: DEFAULT_CHOICES, engine: 1 }),
  createdAt: 1,
  changedAt: 2,
  revision,
});

const here = [lessonOf('a', 'Same'), lessonOf('b', 'Here', 7), lessonOf('c', 'Only here')];
const inFile = [lessonOf('a', 'Same'), lessonOf('b', 'In the file'), lessonOf('d', 'New')];

/** A backup small enough for one file. */
function inOne(lessons: readonly BackedUpLesson[]): string {
  const [text = '', ...more] = writeBackup(lessons);
  expect(more).toEqual([]);
  return text;
}

describe('a backup file', () => {
  test('is never larger than one that is read: what is more goes into others, and all of it comes back', () => {
    // two bytes to the sign, and signs that JSON writes as six
    const lessons = Array.from({ length: 40 }, (_, index) => lessonOf(`l${index}`, `Ö\u0001${'é'.repeat(index)}`));
    const largestBytes = 5000;
    const files = writeBackup(lessons, { largestBytes });
    expect(files.length).toBeGreaterThan(2);
    const back = files.flatMap((text) => {
      expect(new TextEncoder().encode(text).length).toBeLessThanOrEqual(largestBytes);
      const read = readBackup(text);
      return read.kind === 'backup' ? read.backup.lessons.map(({ id, document }) => [id, document]) : [];
    });
    const byId = (a: readonly string[], b: readonly string[]): number => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1);
    expect(back.sort(byId)).toEqual(lessons.map(({ id, document }) => [id, document]).sort(byId));
    // nothing to keep is a file, too
    expect(writeBackup([])).toHaveLength(1);
  });

  test('folders and the order by hand come through; a damaged arrangement counts as none', () => {
    const arrangement = { order: 'hand', byHand: ['b', 'a'], folders: { a: 'Mondays' } } as const;
    const [text = ''] = writeBackup([], { arrangement });
    expect(readBackup(text)).toMatchObject({ backup: { arrangement } });
    expect(readBackup(text.replace('"byHand": [', '"byHand": [3, '))).toMatchObject({
      kind: 'backup',
      backup: { arrangement: { order: 'changed', byHand: [], folders: {} } },
    });
  });

  test('gives back what was put in, byte for byte', () => {
    const read = readBackup(inOne(here));
    const expected = here.map(({ revision: _revision, ...lesson }) => lesson);
    expect(read).toEqual({ kind: 'backup', backup: { lessons: expected, unusable: [] } });
  });

  test('what is damaged in it is named, the rest comes through', () => {
    const [good, bad, twice] = [
      lessonOf('a', 'Good'),
      { ...lessonOf('b', 'Bad'), document: '{' },
      lessonOf('a', 'Twice'),
    ];
    const read = readBackup(inOne([good, bad, twice]));
    expect(read.kind === 'backup' && read.backup.lessons.map(({ title }) => title)).toEqual(['Good']);
    expect(read).toMatchObject({
      backup: {
        unusable: [
          { title: 'Twice', damage: { kind: 'same id' } },
          { title: 'Bad', damage: { kind: 'document', issues: [{ code: 'lesson.not-json' }] } },
        ],
      },
    });
  });

  test('an id that could lead elsewhere is refused', () => {
    const read = readBackup(inOne([lessonOf('../x', 'Bad')]));
    expect(read).toMatchObject({
      backup: { lessons: [], unusable: [{ title: 'Bad', damage: { kind: 'field', field: 'id' } }] },
    });
  });

  test('a truncated, foreign or newer one is told apart', () => {
    const text = inOne(here);
    expect(readBackup(text.slice(0, -20))).toEqual({ kind: 'damaged', damage: { kind: 'not JSON' } });
    expect(readBackup('{"lessons": []}')).toEqual({ kind: 'damaged', damage: { kind: 'field', field: 'kind' } });
    expect(readBackup('[]').kind).toBe('damaged');
    expect(readBackup(text.replace('"version": 1', '"version": 3'))).toEqual({ kind: 'newer', version: 3 });
  });
});

const beside = {
  freshId: () => 'fresh',
  titleOf: (title: string) => `${title} (second)`,
};

describe('restoring', () => {
  const comparison = compare(inFile, here);

  test('tells new, same and different, and what is only here', () => {
    expect(comparison.standings.map(({ kind }) => kind)).toEqual(['same', 'differs', 'new']);
    expect(comparison.onlyHere.map(({ id }) => id)).toEqual(['c']);
  });

  test('merging keeps both where they differ, unless told otherwise', () => {
    const both = mergePlan(comparison, 'keep both', here, beside);
    expect(both.remove).toEqual([]);
    expect(both.put.map(({ id, title }) => [id, title])).toEqual([
      ['fresh', 'In the file'],
      ['d', 'New'],
    ]);
    const file = mergePlan(comparison, 'take the file’s', here, beside);
    // over the revision that other tabs have read
    expect(file.put.map(({ id, revision }) => [id, revision])).toEqual([
      ['b', 8],
      ['d', 1],
    ]);
    expect(mergePlan(comparison, 'keep what is here', here, beside).put.map(({ id }) => id)).toEqual(['d']);
  });

  test('merging twice brings nothing twice', () => {
    const { put } = mergePlan(comparison, 'keep both', here, beside);
    const again = compare(inFile, [...here, ...put]);
    expect(again.standings.map(({ kind }) => kind)).toEqual(['same', 'same', 'same']);
  });

  test('kept beside one of its title, a lesson gets one that tells them apart, and nothing else in it changes', () => {
    const choices = { ...DEFAULT_CHOICES, seed: 77 };
    const documentOf = (chartText: string): string => writeLessonDocument({ chartText, choices, engine: 3 });
    const mine = { ...lessonOf('a', 'Same', 4), document: documentOf('key: Eb major\r\ntitle: Same\r\n| Fm7 |') };
    const file = { ...mine, document: documentOf('key: Eb major\r\ntitle: Same\r\n| Bb7 |') };
    // one of that title is there already
    const shelf = [mine, lessonOf('s', 'Same (second)')];
    const { put } = mergePlan(compare([file], shelf), 'keep both', shelf, beside);
    expect(put.map(({ id, title }) => [id, title])).toEqual([['fresh', 'Same (second) (second)']]);
    const kept = readLessonDocument(put[0]?.document ?? '');
    expect(kept.ok && kept.value).toEqual({
      chartText: 'key: Eb major\r\ntitle: Same (second) (second)\r\n| Bb7 |',
      choices,
      engine: 3,
    });
    // and merging once more brings it not again
    const after = [...shelf, ...put];
    expect(mergePlan(compare([file], after), 'keep both', after, beside).put).toEqual([]);
  });

  test('replacing leaves exactly the file’s lessons', () => {
    const { put, remove } = replacePlan(inFile, here);
    const after = new Map(here.map((each) => [each.id, each]));
    for (const id of remove) after.delete(id);
    for (const each of put) after.set(each.id, each);
    expect(new Map([...after.values()].map(({ id, document }) => [id, document]))).toEqual(
      new Map(inFile.map(({ id, document }) => [id, document])),
    );
    expect(after.get('b')?.revision).toBe(8);
  });
});
