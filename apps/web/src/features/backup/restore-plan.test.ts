import { DEFAULT_CHOICES, readLessonDocument, writeLessonDocument } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import type { StoredLesson } from '../../platform/storage/index.ts';
import { readBackup, writeBackup } from './backup-document.ts';
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

describe('a backup file', () => {
  test('gives back what was put in, byte for byte', () => {
    const read = readBackup(writeBackup(here));
    const expected = here.map(({ revision: _revision, ...lesson }) => lesson);
    expect(read).toEqual({ kind: 'backup', backup: { lessons: expected, unusable: [] } });
  });

  test('what is damaged in it is named, the rest comes through', () => {
    const [good, bad, twice] = [
      lessonOf('a', 'Good'),
      { ...lessonOf('b', 'Bad'), document: '{' },
      lessonOf('a', 'Twice'),
    ];
    const read = readBackup(writeBackup([good, bad, twice]));
    expect(read.kind === 'backup' && read.backup.lessons.map(({ title }) => title)).toEqual(['Good']);
    expect(read.kind === 'backup' && read.backup.unusable.map(({ title }) => title)).toEqual(['Twice', 'Bad']);
  });

  test('an id that could lead elsewhere is refused', () => {
    const read = readBackup(writeBackup([lessonOf('../x', 'Bad')]));
    expect(read).toMatchObject({ backup: { lessons: [], unusable: [{ title: 'Bad' }] } });
  });

  test('a truncated, foreign or newer one is told apart', () => {
    const text = writeBackup(here);
    expect(readBackup(text.slice(0, -20)).kind).toBe('damaged');
    expect(readBackup('{"lessons": []}').kind).toBe('damaged');
    expect(readBackup('[]').kind).toBe('damaged');
    expect(readBackup(text.replace('"version": 1', '"version": 2'))).toEqual({ kind: 'newer', version: 2 });
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
