import { DEFAULT_CHOICES, writeLessonDocument, writeTake } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import type { TakeRecord } from '../../platform/storage/index.ts';
import { readBackup, writeBackup } from './backup-document.ts';
import { compare } from './restore-plan.ts';
import { idsHere, takesBack, takesToPut } from './takes-plan.ts';

const document = writeLessonDocument({ chartText: 'title: Ford\n| Fm7 |', choices: DEFAULT_CHOICES, engine: 1 });

const take = writeTake({
  engine: 1,
  lesson: 'ford',
  edition: 0,
  document,
  programme: { tempoBpm: 120, key: null, countInBars: 1, isToClick: true },
  barOneMicros: 2_000_000,
  delayMs: 0,
  notes: [{ startMicros: 2_000_000, durationMicros: 400_000, key: 60, velocity: 80, channel: 0 }],
  pedals: [],
});

const takeOf = (id: string, remarks: TakeRecord['remarks'] = []): TakeRecord => ({
  id,
  lessonId: 'ford',
  title: 'Ford',
  key: 'F minor',
  tempoBpm: 120,
  at: 5,
  state: 'kept',
  isOffered: false,
  remarks,
  take,
});

const remark = (bar: number, text: string) => ({ bar, text });
const lesson = { id: 'ford', title: 'Ford', createdAt: 1, changedAt: 2, document };

describe('takes in a backup file', () => {
  test('come back as they were, with their remarks; a file with some is version 2, one without is as older programs read it', () => {
    const takes = [takeOf('one', [remark(3, 'Listen.')]), takeOf('two')];
    const [text = '', ...more] = writeBackup([lesson], { takes });
    expect(more).toEqual([]);
    const read = readBackup(text);
    expect(read).toMatchObject({ kind: 'backup', backup: { takes, unusableTakes: 0, lessons: [lesson] } });
    expect(JSON.parse(text)).toMatchObject({ version: 2 });
    const [plain = ''] = writeBackup([lesson], { takes: [] });
    expect(JSON.parse(plain)).toMatchObject({ version: 1 });
    expect(plain).not.toContain('takes');
    expect(readBackup(plain)).toEqual({ kind: 'backup', backup: { lessons: [lesson], unusable: [] } });
  });

  test('no file is larger than one that is read back, and every take is in one of them', () => {
    const takes = Array.from({ length: 30 }, (_, index) =>
      takeOf(
        `t${index}`,
        Array.from({ length: index }, (_each, bar) => remark(bar, 'Ö\u0001')),
      ),
    );
    const largestBytes = 12_000;
    const files = writeBackup([lesson], { largestBytes, takes });
    expect(files.length).toBeGreaterThan(2);
    const back = files.flatMap((text) => {
      expect(new TextEncoder().encode(text).length).toBeLessThanOrEqual(largestBytes);
      const read = readBackup(text);
      return read.kind === 'backup' ? (read.backup.takes ?? []) : [];
    });
    expect(back).toEqual(takes);
  });

  test('what is damaged, twice there or would lead elsewhere is counted; the rest comes through', () => {
    const good = takeOf('good');
    const bad = [
      good,
      { ...good, id: '../x' },
      { ...good, id: 'torn', take: take.slice(0, -5) },
      { ...good, id: 'long', remarks: [remark(1, 'x'.repeat(5000))] },
      { ...good, id: 'newer', take: take.replace('"version":1', '"version":9') },
      7,
      null,
      [],
    ];
    const [text = ''] = writeBackup([], { takes: [good] });
    const spoilt = JSON.stringify({ ...(JSON.parse(text) as object), takes: [good, ...bad] });
    expect(readBackup(spoilt)).toMatchObject({ backup: { takes: [good], unusableTakes: bad.length } });
    expect(readBackup(JSON.stringify({ ...(JSON.parse(text) as object), takes: {} })).kind).toBe('damaged');
    // whatever a file says of itself, what comes is a kept take
    const sly = JSON.stringify({ ...(JSON.parse(text) as object), takes: [{ ...good, state: 'recording' }] });
    expect(readBackup(sly)).toMatchObject({ backup: { takes: [good] } });
  });
});

describe('takes in a restore', () => {
  test('what is not here comes, nothing goes, remarks of both stay; replacing, the file’s are taken', () => {
    const here = [takeOf('one', [remark(1, 'mine')]), takeOf('stays')];
    const coming = [takeOf('one', [remark(1, 'theirs'), remark(4, 'theirs')]), takeOf('new'), takeOf('stays')];
    const merged = takesToPut(coming, here, false);
    expect(merged.map(({ after }) => [after.id, after.remarks])).toEqual([
      ['one', [remark(1, 'mine'), remark(4, 'theirs')]],
      ['new', []],
    ]);
    expect(takesToPut(coming, here, true)[0]?.after.remarks).toEqual(coming[0]?.remarks);
  });

  test('a take goes to its lesson, also where that is here under another id', () => {
    const stored = { ...lesson, id: 'other', revision: 1 };
    const ids = idsHere(compare([lesson], [stored]), [stored]);
    expect(takesToPut([takeOf('one')], [], false, ids)[0]?.after.lessonId).toBe('other');
    // its own id is here: nothing is moved
    const own = { ...lesson, revision: 1 };
    expect(idsHere(compare([lesson], [stored, own]), [stored, own]).size).toBe(0);
  });

  test('taken back, what came goes and what was there is as before; what was changed since stays', () => {
    const here = [takeOf('one', [remark(1, 'mine')])];
    const touched = takesToPut([takeOf('one', [remark(4, 'theirs')]), takeOf('new'), takeOf('later')], here, false);
    const now = touched.map(({ after }) =>
      after.id === 'later' ? { ...after, remarks: [remark(2, 'since')] } : after,
    );
    expect(takesBack(touched, now)).toEqual({ put: here, remove: ['new'] });
  });
});
