import 'fake-indexeddb/auto';
import { DEFAULT_CHOICES, ENGINE_VERSION, readLessonDocument, writeLessonDocument, writeTake } from '@fivespan/core';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { readBackup, type BackedUpLesson } from './backup-document.ts';

vi.mock('../../platform/workers/index.ts', () => ({ runJob: () => new Promise(() => undefined) }));

const saveFile = vi.hoisted(() => vi.fn<(name: string, content: string) => void>());
vi.mock('../../platform/files/index.ts', () => ({ saveFile, fileNameOf: (name: string) => name }));

/** The features as they are when the application has just been started, over an empty database. */
async function start() {
  vi.resetModules();
  vi.stubGlobal('addEventListener', () => undefined);
  const list = await import('../lesson-list/index.ts');
  const desk = await import('../open-lesson/index.ts');
  const backup = await import('./index.ts');
  return { ...list, ...desk, ...backup };
}

beforeEach(async () => {
  // Dexie says so when a database is deleted under it
  vi.spyOn(console, 'warn').mockReturnValue(undefined);
  await new Promise<void>((resolve) => {
    indexedDB.deleteDatabase('fivespan').addEventListener('success', () => resolve());
  });
  indexedDB.deleteDatabase('fivespan-takes');
});

const documentOf = (chartText: string): string =>
  writeLessonDocument({ chartText, choices: DEFAULT_CHOICES, engine: ENGINE_VERSION });

const chartOf = (document: string): string => {
  const read = readLessonDocument(document);
  return read.ok ? read.value.chartText : 'damaged';
};

const inFile = (id: string, chartText: string): BackedUpLesson => ({
  id,
  title: /title: (.*)/u.exec(chartText)?.[1] ?? '',
  createdAt: 1,
  changedAt: 2,
  document: documentOf(chartText),
});

const second = (title: string): string => `${title} (second)`;

type App = Awaited<ReturnType<typeof start>>;

/** What is kept: each chart, in the order of the alphabet. */
async function chartsIn({ lessonStore }: App): Promise<readonly string[]> {
  const read = await (await lessonStore()).list();
  return read.kind === 'read' ? read.shelf.lessons.map(({ document }) => chartOf(document)).sort() : [read.fault.kind];
}

async function edit({ openStored, changeLesson, closeLesson, flush }: App, id: string, chartText: string) {
  await openStored(id);
  changeLesson({ chartText });
  closeLesson();
  await flush();
}

/** Two lessons here; a restore replaces them: one differs, one goes, one comes. */
async function replaced(): Promise<App & { readonly here: string; readonly gone: string }> {
  const app = await start();
  const { id: here } = await app.createLesson('title: Here\n| A7 |');
  const { id: gone } = await app.createLesson('title: Gone\n| B7 |');
  const lessons = [inFile(here, 'title: Here\n| Dm7 |'), inFile('come', 'title: Come\n| G7 |')];
  await app.showRestoring({ lessons, unusable: [] });
  await app.replaceByBackup();
  expect(await chartsIn(app)).toEqual(['title: Come\n| G7 |', 'title: Here\n| Dm7 |']);
  expect(app.$restored.get()).toEqual({ put: 2, removed: 1 });
  return { ...app, here, gone };
}

describe('a backup', () => {
  /** The charts in the backup that was saved last. */
  function chartsSaved(): readonly string[] {
    const { lessons } = JSON.parse(saveFile.mock.lastCall?.[1] ?? '') as { lessons: BackedUpLesson[] };
    return lessons.map(({ document }) => chartOf(document)).sort();
  }

  test('holds what could not be kept, in the place of what is on the disk', async () => {
    const app = await start();
    const { id } = await app.createLesson('title: Old\n| A7 |');
    await app.createLesson('title: Other\n| B7 |');
    vi.spyOn(await app.lessonStore(), 'write').mockResolvedValue({ kind: 'fault', fault: { kind: 'full' } });
    await edit(app, id, 'title: New\n| A7 | D7 |');
    expect(await app.saveBackup()).toEqual({ kind: 'saved', lessons: 2, files: 1, takes: 0, missing: 0 });
    expect(chartsSaved()).toEqual(['title: New\n| A7 | D7 |', 'title: Other\n| B7 |']);
    expect(app.$shelf.get().backedUpAt).not.toBeNull();
    // on the disk it is as it was
    expect(await chartsIn(app)).toEqual(['title: Old\n| A7 |', 'title: Other\n| B7 |']);
  });

  test('holds both where another tab changed the lesson, too', async () => {
    const app = await start();
    const { id } = await app.createLesson('title: Old\n| A7 |');
    const store = await app.lessonStore();
    await app.openStored(id);
    const read = await store.read(id);
    const seen = read.kind === 'read' ? read.stored : undefined;
    const theirs = { title: 'Theirs', document: documentOf('title: Theirs\n| A7 |') };
    app.changeLesson({ chartText: 'title: Mine\n| A7 |' });
    if (seen !== undefined) await store.write(id, { ...seen }, theirs);
    await app.flush();
    app.closeLesson();
    expect(app.$unkept.get()).toMatchObject([{ conflict: 'changed' }]);
    await app.saveBackup();
    expect(chartsSaved()).toEqual(['title: Mine\n| A7 |', 'title: Theirs\n| A7 |']);
  });

  test("holds a teacher's own notes, phrases and motives, and a restore brings them back byte for byte", async () => {
    const app = await start();
    const chartText = 'title: Own\n| Fm7 | Bb7 |';
    const { id } = await app.createLesson(chartText);
    const note = { onsetTicks: 480, durationTicks: 480, key: 70 };
    const { pins } = DEFAULT_CHOICES;
    const fingers = [1, 2, 4] as const;
    const parts = {
      voicings: [],
      notes: [{ part: 'bass' as const, slot: 'b1.1', pass: 1, over: 'Fm7', notes: [note] }],
      motives: [{ notes: fingers.map((finger, at) => ({ onsetTicks: at * 480, durationTicks: 480, finger })) }],
    };
    const phrase = {
      name: 'Mine',
      part: 'chorus' as const,
      lengthTicks: 3840,
      chords: [{ onsetTicks: 0, symbol: 'Fm7' }],
      notes: [note],
    };
    await app.openStored(id);
    app.changeLesson({ choices: { pins: { ...pins, parts }, phrases: [phrase] } });
    app.closeLesson();
    await app.flush();
    await app.saveBackup();
    const { lessons } = JSON.parse(saveFile.mock.lastCall?.[1] ?? '') as { lessons: BackedUpLesson[] };
    const [saved] = lessons;
    const read = readLessonDocument(saved?.document ?? '');
    expect(read.ok && [read.value.choices.pins.parts, read.value.choices.phrases]).toEqual([parts, [phrase]]);
    // changed since, it is put back as it was
    await edit(app, id, 'title: Own\n| C |');
    await app.showRestoring({ lessons, unusable: [] });
    await app.replaceByBackup();
    const kept = await (await app.lessonStore()).read(id);
    expect(kept.kind === 'read' && kept.stored.document).toBe(saved?.document);
  });

  test('holds kept takes only where it is asked for; a restore brings them back, and taken back they go', async () => {
    const app = await start();
    const { id } = await app.createLesson('title: Own\n| Fm7 | Bb7 |');
    const { changeTakes, keptTakes } = await import('../takes/kept.ts');
    const record = { title: 'Own', key: 'F minor', tempoBpm: 90, at: 3, isOffered: false, state: 'kept' as const };
    const programme = { tempoBpm: 90, key: null, countInBars: 1, isToClick: true };
    const played = { startMicros: 0, durationMicros: 9, key: 60, velocity: 9, channel: 0 };
    const document = documentOf('title: Own\n| Fm7 | Bb7 |');
    const rest = { barOneMicros: 0, delayMs: 0, notes: [played], pedals: [] };
    const take = writeTake({ engine: 1, lesson: id, edition: 0, document, programme, ...rest });
    await changeTakes([{ ...record, id: 'mine', lessonId: id, remarks: [{ bar: 1, text: 'Good.' }], take }], []);
    await app.countTakes();
    expect(app.$keptTakes.get()).toBe(1);
    expect(await app.saveBackup()).toMatchObject({ takes: 0 });
    expect(saveFile.mock.lastCall?.[1]).not.toContain('mine');
    expect(await app.saveBackup(true)).toMatchObject({ lessons: 1, takes: 1 });
    const file = readBackup(saveFile.mock.lastCall?.[1] ?? '');
    const before = await keptTakes();
    await changeTakes([], ['mine']);
    expect(await keptTakes()).toEqual([]);
    if (file.kind === 'backup') await app.showRestoring(file.backup);
    expect(await app.mergeBackup('keep both', second)).toBeNull();
    expect(await keptTakes()).toEqual(before);
    expect(app.$restored.get()).toEqual({ put: 0, removed: 0, takes: 1 });
    // where the lessons cannot be written nothing of the takes stays behind either
    await app.takeRestoringBack();
    expect(await keptTakes()).toEqual([]);
    vi.spyOn(await app.lessonStore(), 'changeAll').mockResolvedValue({ kind: 'fault', fault: { kind: 'full' } });
    if (file.kind === 'backup') await app.showRestoring(file.backup);
    expect(await app.mergeBackup('keep both', second)).toEqual({ kind: 'full' });
    expect(await keptTakes()).toEqual([]);
  });

  test('says what is not in it, and is not noted as everything then', async () => {
    const app = await start();
    const { id } = await app.createLesson('title: Good\n| A7 |');
    await app.openStored(id);
    app.changeLesson({ choices: { seed: -1 } });
    app.closeLesson();
    expect(await app.saveBackup()).toEqual({ kind: 'saved', lessons: 1, files: 1, takes: 0, missing: 1 });
    expect(chartsSaved()).toEqual(['title: Good\n| A7 |']);
    expect(app.$shelf.get().backedUpAt).toBeNull();
  });
});

describe('a restore is taken back', () => {
  test('as a whole where nothing happened since', async () => {
    const app = await replaced();
    expect(await app.takeRestoringBack()).toEqual({ kind: 'taken back', staying: 0, differing: 0 });
    expect(await chartsIn(app)).toEqual(['title: Gone\n| B7 |', 'title: Here\n| A7 |']);
    expect(app.$restored.get()).toBeNull();
    expect(app.$restoring.get()).toBeNull();
  });

  test('lessons made since stay', async () => {
    const app = await replaced();
    await app.createLesson('title: Made since\n| C |');
    await app.takeRestoringBack();
    expect(await chartsIn(app)).toEqual(['title: Gone\n| B7 |', 'title: Here\n| A7 |', 'title: Made since\n| C |']);
  });

  test('what came with it and was changed since stays, and is told', async () => {
    const app = await replaced();
    await edit(app, 'come', 'title: Come\n| G7 | C |');
    expect(await app.takeRestoringBack()).toEqual({ kind: 'taken back', staying: 1, differing: 0 });
    expect(await chartsIn(app)).toEqual(['title: Come\n| G7 | C |', 'title: Gone\n| B7 |', 'title: Here\n| A7 |']);
  });

  test('what was changed since is not put over: both are shown, and both can be kept', async () => {
    const app = await replaced();
    await edit(app, app.here, 'title: Here\n| Dm7 | G7 |');
    expect(await app.takeRestoringBack()).toEqual({ kind: 'taken back', staying: 0, differing: 1 });
    const rest = ['title: Gone\n| B7 |', 'title: Here\n| Dm7 | G7 |'];
    expect(await chartsIn(app)).toEqual(rest);
    expect(app.$restoring.get()).toMatchObject({
      isTakingBack: true,
      comparison: { standings: [{ kind: 'differs', lesson: { document: documentOf('title: Here\n| A7 |') } }] },
    });
    // left, it can be asked for again
    app.leaveRestoring();
    expect(app.$restored.get()).toEqual({ put: 1, removed: 0 });
    await app.takeRestoringBack();
    expect(await app.mergeBackup('keep both', second)).toBeNull();
    expect(await chartsIn(app)).toEqual([...rest, 'title: Here (second)\n| A7 |']);
  });

  test('what stands in the way is told, and nothing is forgotten', async () => {
    const app = await replaced();
    const store = await app.lessonStore();
    const change = vi.spyOn(store, 'changeAll').mockResolvedValue({ kind: 'fault', fault: { kind: 'full' } });
    expect(await app.takeRestoringBack()).toEqual({ kind: 'fault', fault: { kind: 'full' } });
    change.mockResolvedValue({ kind: 'overtaken', stored: undefined });
    expect(await app.takeRestoringBack()).toEqual({ kind: 'overtaken' });
    change.mockRestore();
    expect(await app.takeRestoringBack()).toMatchObject({ kind: 'taken back' });
    expect(await chartsIn(app)).toEqual(['title: Gone\n| B7 |', 'title: Here\n| A7 |']);
  });
});
