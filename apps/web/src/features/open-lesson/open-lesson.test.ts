import 'fake-indexeddb/auto';
import { DEFAULT_CHOICES, ENGINE_VERSION, readLessonDocument, writeLessonDocument } from '@fivespan/core';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { mishapsSoFar } from '../../platform/diagnostics/index.ts';
import {
  LessonStore,
  memoryRecords,
  type LessonNews,
  type StoredLesson,
  type WriteOutcome,
} from '../../platform/storage/index.ts';
import { $made, $notMade, makeAgain } from './making.ts';
import {
  $open,
  $unkept,
  changeLesson,
  closeLesson,
  flush,
  goOnWithEngine,
  isAnythingUnkept,
  keepBoth,
  openLesson,
  putBackHere,
  redo,
  saveAgain,
  takeOther,
  takeUpUnkept,
  undo,
} from './open-lesson.ts';

const runJob = vi.hoisted(() => vi.fn((): Promise<unknown> => new Promise(() => undefined)));
vi.mock('../../platform/workers/index.ts', () => ({ runJob }));

const CHART = 'title: Lantern Street\n| Fm7 | Bb7 | Ebmaj7 | % |\n';

function documentOf(chartText: string, engine = ENGINE_VERSION): string {
  return writeLessonDocument({ chartText, choices: DEFAULT_CHOICES, engine });
}

/** A store whose writes wait until the test lets them through, and fail where it says so. */
class SlowStore extends LessonStore {
  readonly gates: (() => void)[] = [];
  isSlow = false;
  failing: Exclude<WriteOutcome, { kind: 'written' }> | null = null;
  writes = 0;
  isDoubted = false;
  /** Whether what was written last is gone when it is looked for. */
  isLost = false;

  override get isDoubtful(): boolean {
    return this.isDoubted;
  }

  override async prove(...order: Parameters<LessonStore['prove']>): Promise<boolean> {
    const isThere = !this.isLost && (await super.prove(...order));
    this.isDoubted &&= !isThere;
    return isThere;
  }

  override async write(...order: Parameters<LessonStore['write']>): Promise<WriteOutcome> {
    this.writes++;
    if (this.isSlow) await new Promise<void>((resolve) => this.gates.push(resolve));
    return this.failing ?? (await super.write(...order));
  }

  letThrough(): void {
    this.isSlow = false;
    for (const gate of this.gates.splice(0)) gate();
  }
}

/** Two tabs over the same records, each hearing the other. */
function twoTabs(): { here: SlowStore; there: LessonStore } {
  const records = memoryRecords();
  const listeners = { here: new Set<(news: LessonNews) => void>(), there: new Set<(news: LessonNews) => void>() };
  const channel = (own: 'here' | 'there') => ({
    tell: (news: LessonNews) => listeners[own === 'here' ? 'there' : 'here'].forEach((each) => each(news)),
    hear: (listener: (news: LessonNews) => void) => {
      listeners[own].add(listener);
      return () => listeners[own].delete(listener);
    },
  });
  return { here: new SlowStore(records, channel('here')), there: new LessonStore(records, channel('there')) };
}

let here: SlowStore;
let there: LessonStore;
/** Another one in every test: what one leaves behind is not taken up by the next. */
let id = '';
let tests = 0;

async function storedNow(of = id): Promise<StoredLesson> {
  const read = await there.read(of);
  if (read.kind !== 'read') throw new Error(read.kind);
  return read.stored;
}

async function textNow(of = id): Promise<string> {
  const read = readLessonDocument((await storedNow(of)).document);
  if (!read.ok) throw new Error('unreadable');
  return read.value.chartText;
}

function lessonOf(chartText: string): StoredLesson {
  return { id, title: '', document: documentOf(chartText), createdAt: 1, changedAt: 1, revision: 1 };
}

async function writeThere(chartText: string): Promise<void> {
  await there.write(id, await storedNow(), { title: 'theirs', document: documentOf(chartText) });
}

/** When everything has happened that can: records in memory answer within one turn of the event loop. */
const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

beforeEach(async () => {
  closeLesson();
  ({ here, there } = twoTabs());
  id = `lesson-${++tests}`;
  const stored = lessonOf(CHART);
  await there.add(stored);
  runJob.mockClear();
  openLesson(here, stored);
  await settle();
});

describe('keeping', () => {
  test('says kept only when the last change is on the disk', async () => {
    here.isSlow = true;
    changeLesson({ chartText: '| A7 |' });
    await settle();
    changeLesson({ chartText: '| B7 |' });
    expect($open.get()?.saving).toBe('saving');
    here.gates.shift()?.();
    await settle();
    // the first of the two is written now, the second waits
    expect($open.get()?.saving).toBe('saving');
    here.letThrough();
    await flush();
    expect($open.get()?.saving).toBe('saved');
    expect(await textNow()).toBe('| B7 |');
  });

  test('of many changes that wait, the newest is written', async () => {
    for (let count = 1; count <= 200; count++)
      changeLesson({ chartText: `| ${'Fm7 '.repeat(count % 4)}Bb7 |`, together: 'typing' });
    changeLesson({ chartText: '| Ebmaj7 |', together: 'typing' });
    await flush();
    expect(await textNow()).toBe('| Ebmaj7 |');
    expect(here.writes).toBeLessThan(5);
    undo();
    expect($open.get()?.chartText).toBe(CHART);
  });

  test('a lesson closed while it is being kept is kept all the same', async () => {
    here.isSlow = true;
    changeLesson({ chartText: '| A7 |' });
    await settle();
    changeLesson({ chartText: '| B7 |' });
    closeLesson();
    here.letThrough();
    await flush();
    expect(await textNow()).toBe('| B7 |');
    expect(isAnythingUnkept()).toBe(false);
  });

  test('the title in the list is the chart’s, also where the chart has faults', async () => {
    changeLesson({ chartText: 'title: Harbour\n| Hx9 |' });
    await flush();
    expect((await storedNow()).title).toBe('Harbour');
  });

  test('a refused write is told, and tried again', async () => {
    here.failing = { kind: 'fault', fault: { kind: 'full' } };
    changeLesson({ chartText: '| A7 |' });
    await flush();
    expect($open.get()?.saving).toEqual({ kind: 'full' });
    expect(isAnythingUnkept()).toBe(true);
    undo();
    await flush();
    expect($open.get()?.saving).toEqual({ kind: 'full' });
    redo();
    here.failing = null;
    saveAgain();
    await flush();
    expect($open.get()?.saving).toBe('saved');
    expect(await textNow()).toBe('| A7 |');
  });

  test('after a full disk a change is kept when it was found on the disk, not when the browser says so', async () => {
    here.failing = { kind: 'fault', fault: { kind: 'full' } };
    changeLesson({ chartText: '| A7 |' });
    await flush();
    here.failing = null;
    here.isDoubted = true;
    here.isLost = true;
    saveAgain();
    await flush();
    expect($open.get()?.saving).toEqual({ kind: 'unproved' });
    // the page asks before it is closed, and a backup has it
    expect(isAnythingUnkept()).toBe(true);
    here.isLost = false;
    saveAgain();
    await flush();
    expect($open.get()?.saving).toBe('saved');
    expect(isAnythingUnkept()).toBe(false);
    expect(await textNow()).toBe('| A7 |');
    expect($open.get()?.conflict).toBe(null);
  });

  test('where what shows it fails, the next change is kept all the same, and the failure is noted', async () => {
    const stop = $open.listen((open) => {
      if (open?.saving === 'saved') throw new Error('cannot be shown');
    });
    changeLesson({ chartText: '| A7 |' });
    await flush();
    stop();
    changeLesson({ chartText: '| B7 |' });
    await flush();
    expect(await textNow()).toBe('| B7 |');
    expect($open.get()?.saving).toBe('saved');
    expect(mishapsSoFar().at(-1)?.message).toContain('cannot be shown');
  });

  test('a lesson left with what could not be kept is still there, with its history', async () => {
    here.failing = { kind: 'fault', fault: { kind: 'full' } };
    changeLesson({ chartText: 'title: Mine\n| A7 |' });
    await flush();
    closeLesson();
    expect($unkept.get()).toMatchObject([{ id, title: 'Mine', saving: { kind: 'full' } }]);
    here.failing = null;
    expect(takeUpUnkept(here, 'b')).toBe(false);
    expect(takeUpUnkept(here, id)).toBe(true);
    await flush();
    expect($open.get()).toMatchObject({ chartText: 'title: Mine\n| A7 |', saving: 'saved', canUndo: true });
    expect($unkept.get()).toEqual([]);
  });

  test('a lesson that is left and opened again can still be undone', async () => {
    changeLesson({ chartText: '| A7 |' });
    closeLesson();
    await flush();
    openLesson(here, await storedNow());
    expect($open.get()?.canUndo).toBe(true);
    undo();
    await flush();
    expect(await textNow()).toBe(CHART);
  });

  test('choices that could not be read back are told and not written', async () => {
    changeLesson({ choices: { seed: -1 } });
    await flush();
    expect($open.get()?.saving).toMatchObject({ kind: 'unreadable', issues: [{ code: 'lesson.field' }] });
    expect((await storedNow()).revision).toBe(1);
    undo();
    await flush();
    expect($open.get()?.saving).toBe('saved');
  });

  test('pins follow their slots through an edit', async () => {
    const pin = { slot: 'b3.1', pass: 1, chordScale: 'Eb lydian' };
    const pins = { ...DEFAULT_CHOICES.pins, plan: { chordScales: [pin], positions: [], secondScales: [] } };
    changeLesson({ choices: { pins } as never });
    changeLesson({ chartText: CHART.replace('| Fm7', '| Gm7 | Fm7') });
    expect($open.get()?.choices.pins.plan.chordScales).toMatchObject([{ slot: 'b4.1' }]);
    undo();
    expect($open.get()?.choices.pins.plan.chordScales).toMatchObject([{ slot: 'b3.1' }]);
    await flush();
    const read = readLessonDocument((await storedNow()).document);
    expect(read.ok && read.value.choices.pins.plan.chordScales).toMatchObject([{ slot: 'b3.1' }]);
  });
});

describe('two tabs', () => {
  test('a change made in the other is followed where nothing waits here', async () => {
    await writeThere('| Dm7 |');
    await settle();
    expect($open.get()).toMatchObject({ chartText: '| Dm7 |', saving: 'saved', conflict: null });
    // and the next change is put over it, not beside it
    changeLesson({ chartText: '| Dm7 | G7 |' });
    await flush();
    expect($open.get()?.saving).toBe('saved');
    expect((await storedNow()).revision).toBe(3);
  });

  test("a teacher's own notes written in the other are followed, written over by nobody, and undone here", async () => {
    const { pins } = DEFAULT_CHOICES;
    const note = { onsetTicks: 0, durationTicks: 960, key: 74 };
    const own = { part: 'chorus' as const, slot: 'b2.1', pass: 1, over: 'Bb7', notes: [note] };
    const choices = { ...DEFAULT_CHOICES, pins: { ...pins, parts: { ...pins.parts, notes: [own] } } };
    const document = writeLessonDocument({ chartText: CHART, choices, engine: ENGINE_VERSION });
    await there.write(id, await storedNow(), { title: 'theirs', document });
    await settle();
    expect($open.get()?.choices.pins.parts.notes).toEqual([own]);
    changeLesson({ choices: { seed: 7 } });
    await flush();
    const read = readLessonDocument((await storedNow()).document);
    expect(read.ok && [read.value.choices.seed, read.value.choices.pins.parts.notes]).toEqual([7, [own]]);
    undo();
    undo();
    expect($open.get()?.choices.pins.parts.notes).toEqual([]);
  });

  test('what was here before can be had back by undoing', async () => {
    await writeThere('| Dm7 |');
    await writeThere('| Em7 |');
    await settle();
    undo();
    await flush();
    expect(await textNow()).toBe(CHART);
  });

  test('where both changed nothing is written over; theirs is kept, mine is shown', async () => {
    here.isSlow = true;
    changeLesson({ chartText: 'title: Mine\n| A7 |' });
    await settle();
    await writeThere('title: Theirs\n| Dm7 |');
    here.letThrough();
    await flush();
    expect($open.get()).toMatchObject({ conflict: 'changed', chartText: 'title: Mine\n| A7 |' });
    expect(await textNow()).toBe('title: Theirs\n| Dm7 |');
    expect(isAnythingUnkept()).toBe(true);

    // one goes on typing; still nothing is written
    changeLesson({ chartText: 'title: Mine\n| A7 | D7 |' });
    await flush();
    expect(await textNow()).toBe('title: Theirs\n| Dm7 |');

    const second = await keepBoth((title) => `${title} (second)`);
    expect(second).toBeDefined();
    expect(await textNow(second)).toBe('title: Mine (second)\n| A7 | D7 |');
    expect(await textNow()).toBe('title: Theirs\n| Dm7 |');
    expect($open.get()).toMatchObject({ id: second, conflict: null, saving: 'saved' });
    // and goes on as its own
    changeLesson({ chartText: 'title: Mine\n| A7 | D7 | G7 |' });
    await flush();
    expect(await textNow(second)).toBe('title: Mine\n| A7 | D7 | G7 |');
  });

  test('where both changed, one can go on with theirs, and undo brings back mine', async () => {
    here.isSlow = true;
    changeLesson({ chartText: '| A7 |' });
    await settle();
    await writeThere('| Dm7 |');
    here.letThrough();
    await flush();
    // they go on meanwhile
    await writeThere('| Dm7 | G7 |');
    await settle();
    takeOther();
    expect($open.get()).toMatchObject({ chartText: '| Dm7 | G7 |', conflict: null, saving: 'saved' });
    undo();
    await flush();
    expect(await textNow()).toBe('| A7 |');
  });

  test('the same change made in both is no conflict', async () => {
    here.isSlow = true;
    changeLesson({ chartText: '| A7 |' });
    await settle();
    await writeThere('| A7 |');
    here.letThrough();
    await flush();
    expect($open.get()).toMatchObject({ conflict: null, saving: 'saved' });
  });

  test('what is typed while both are being kept apart is kept too', async () => {
    here.isSlow = true;
    changeLesson({ chartText: '| A7 |' });
    await settle();
    await writeThere('| Dm7 |');
    here.letThrough();
    await flush();
    const keeping = keepBoth(() => 'Second');
    changeLesson({ chartText: '| A7 | B7 |' });
    const second = await keeping;
    await flush();
    expect(await textNow(second)).toBe('title: Second\n| A7 | B7 |');
    expect($open.get()).toMatchObject({ chartText: 'title: Second\n| A7 | B7 |', saving: 'saved' });
  });

  test('where both could not be kept, trying again does not change the title twice', async () => {
    here.isSlow = true;
    changeLesson({ chartText: 'title: Mine\n| A7 |' });
    await settle();
    await writeThere('| Dm7 |');
    here.letThrough();
    await flush();
    const add = vi.spyOn(here, 'add').mockResolvedValue({ kind: 'fault', fault: { kind: 'full' } });
    const second = (title: string): string => `${title} (second)`;
    expect(await keepBoth(second)).toBeUndefined();
    expect($open.get()?.chartText).toBe('title: Mine\n| A7 |');
    add.mockRestore();
    expect(await textNow(await keepBoth(second))).toBe('title: Mine (second)\n| A7 |');
    expect($open.get()?.chartText).toBe('title: Mine (second)\n| A7 |');
  });

  test('a lesson removed in the other is told at once, and can be put back', async () => {
    await there.remove(id);
    await settle();
    expect($open.get()?.conflict).toBe('removed');
    changeLesson({ chartText: '| A7 |' });
    await flush();
    expect(await there.read(id)).toEqual({ kind: 'missing' });
    await putBackHere();
    expect($open.get()).toMatchObject({ conflict: null, saving: 'saved' });
    expect(await textNow()).toBe('| A7 |');
  });

  test('a removal that the other tab takes back is no longer told', async () => {
    const stored = await storedNow();
    await there.remove(id);
    await settle();
    await there.add({ ...stored, revision: stored.revision + 1 });
    await settle();
    expect($open.get()?.conflict).toBeNull();
    changeLesson({ chartText: '| A7 |' });
    await flush();
    expect(await textNow()).toBe('| A7 |');
  });

  /** A lesson removed, and another one of its id put back as a backup puts it: counted from the beginning. */
  async function restoreThere(chartText: string): Promise<StoredLesson> {
    await there.remove(id);
    const restored = { ...lessonOf(chartText), title: 'restored' };
    await there.changeAll({ put: [restored], remove: [] }, []);
    return restored;
  }

  test('one of its id and revision that came out of a backup is followed, not taken for what is here', async () => {
    await restoreThere('| Gm7 |');
    await settle();
    expect($open.get()).toMatchObject({ chartText: '| Gm7 |', conflict: null });
    changeLesson({ chartText: '| Gm7 | C7 |' });
    await flush();
    expect(await textNow()).toBe('| Gm7 | C7 |');
    undo();
    undo();
    await flush();
    // what was here before is still to be had
    expect(await textNow()).toBe(CHART);
  });

  test('a lower revision than the one that is open is followed, too', async () => {
    changeLesson({ chartText: '| A7 |' });
    changeLesson({ chartText: '| A7 | D7 |' });
    await flush();
    await restoreThere('| Gm7 |');
    await settle();
    expect($open.get()?.chartText).toBe('| Gm7 |');
  });

  test('a change that waits is not written over a restored lesson of the same revision', async () => {
    here.isSlow = true;
    changeLesson({ chartText: '| A7 |' });
    await settle();
    await restoreThere('| Gm7 |');
    here.letThrough();
    await flush();
    expect($open.get()).toMatchObject({ conflict: 'changed', chartText: '| A7 |' });
    expect(await textNow()).toBe('| Gm7 |');
  });

  test('a lesson that was left is not taken up in place of a restored one of the same revision', async () => {
    closeLesson();
    await flush();
    openLesson(here, await restoreThere('| Gm7 |'));
    expect($open.get()).toMatchObject({ chartText: '| Gm7 |', canUndo: false });
    changeLesson({ chartText: '| Gm7 | C7 |' });
    await flush();
    expect(await textNow()).toBe('| Gm7 | C7 |');
  });

  test('what the other tab wrote between reading and opening is not missed', async () => {
    const stored = await storedNow();
    closeLesson();
    await writeThere('| Dm7 |');
    openLesson(here, stored);
    await settle();
    expect($open.get()?.chartText).toBe('| Dm7 |');
  });
});

describe('music that cannot be computed', () => {
  /** What the next job comes to. */
  function nextJob(): { readonly fail: (error: Error) => void; readonly make: () => void } {
    let ends: { readonly fail: (error: Error) => void; readonly make: () => void } | undefined;
    runJob.mockImplementationOnce(
      async () =>
        await new Promise((resolve, reject) => {
          ends = { fail: reject, make: () => resolve({}) };
        }),
    );
    return { fail: (error) => ends?.fail(error), make: () => ends?.make() };
  }

  test('is told, and computed again when asked for', async () => {
    const first = nextJob();
    changeLesson({ chartText: '| A7 |' });
    expect($notMade.get()).toBeNull();
    first.fail(new Error('out of range'));
    await settle();
    expect($notMade.get()).toEqual({ message: 'out of range' });
    expect(mishapsSoFar().at(-1)?.message).toContain('out of range');
    const second = nextJob();
    makeAgain();
    expect($notMade.get()).toBeNull();
    second.make();
    await settle();
    expect($made.get()).toMatchObject({ chartText: '| A7 |' });
    expect($notMade.get()).toBeNull();
  });

  test('is not told of what was asked before, nor of a lesson that was left', async () => {
    const first = nextJob();
    changeLesson({ chartText: '| A7 |' });
    const second = nextJob();
    changeLesson({ chartText: '| B7 |' });
    first.fail(new DOMException('a newer question', 'AbortError'));
    await settle();
    expect($notMade.get()).toBeNull();
    second.fail(new Error('out of range'));
    await settle();
    expect($notMade.get()).not.toBeNull();
    closeLesson();
    expect($notMade.get()).toBeNull();
  });
});

describe('another music engine', () => {
  test('nothing is computed, and nothing called by its number, before one goes on', async () => {
    closeLesson();
    const document = documentOf(CHART, ENGINE_VERSION + 1);
    await there.write(id, await storedNow(), { title: '', document });
    runJob.mockClear();
    openLesson(here, await storedNow());
    expect($open.get()).toMatchObject({ isHeld: true, engine: ENGINE_VERSION + 1 });
    changeLesson({ chartText: '| A7 |' });
    await flush();
    expect(runJob).not.toHaveBeenCalled();
    expect((await storedNow()).document).toContain(`"engine": ${ENGINE_VERSION + 1}`);
    goOnWithEngine();
    await flush();
    expect(runJob).toHaveBeenCalledTimes(1);
    expect($open.get()).toMatchObject({ isHeld: false, engine: ENGINE_VERSION, saving: 'saved' });
    expect((await storedNow()).document).toContain(`"engine": ${ENGINE_VERSION},`);
  });
});
