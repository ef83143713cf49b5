import 'fake-indexeddb/auto';
import { DEFAULT_CHOICES, ENGINE_VERSION, formatKey, parseKey, writeLessonDocument, type Key } from '@fivespan/core';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { LessonStore, memoryRecords } from '../../platform/storage/index.ts';
import { $open, changeLesson, closeLesson, openLesson, undo } from '../open-lesson/index.ts';
import {
  $barEdit,
  $chosenBar,
  $page,
  beginEdit,
  cancelEdit,
  emptyBar,
  endEdit,
  newBarAfter,
  takeBarOut,
  transposeTo,
  undoChange,
  writeBars,
  writeDraft,
  writeHeading,
  writeText,
} from './index.ts';

vi.mock('../../platform/workers/index.ts', () => ({ runJob: () => new Promise(() => undefined) }));

const key = (name: string): Key => parseKey(name) as Key;
const text = (): string | undefined => $open.get()?.chartText;

async function open(chartText: string): Promise<void> {
  const store = new LessonStore(memoryRecords(), { tell: () => undefined, hear: () => () => undefined });
  const stored = {
    id: crypto.randomUUID(),
    title: '',
    document: writeLessonDocument({ chartText, choices: DEFAULT_CHOICES, engine: ENGINE_VERSION }),
    createdAt: 1,
    changedAt: 1,
    revision: 1,
  };
  await store.add(stored);
  openLesson(store, stored);
}

beforeEach(() => {
  closeLesson();
  endEdit();
});

describe('writing a bar', () => {
  test('what is typed is in the text at once; typing one bar is one step back', async () => {
    await open('| Fm7 | Bb7 |');
    beginEdit(1, 'E');
    writeDraft('Eb');
    writeDraft('Ebm7');
    expect(text()).toBe('| Fm7 | Ebm7 |');
    endEdit();
    undo();
    expect(text()).toBe('| Fm7 | Bb7 |');
  });

  test('an emptied field is N.C., and stays the same bar', async () => {
    await open('|: Fm7 | Bb7 :|');
    beginEdit(0);
    writeDraft('');
    expect(text()).toBe('|: N.C. | Bb7 :|');
    writeDraft('Gm7');
    expect(text()).toBe('|: Gm7 | Bb7 :|');
  });

  test('Escape takes all of it back, and undo then what was before', async () => {
    await open('| Fm7 | Bb7 |');
    emptyBar(1);
    beginEdit(0, 'G');
    writeDraft('G7');
    cancelEdit();
    expect([text(), $barEdit.get()]).toEqual(['| Fm7 | N.C. |', null]);
    undoChange();
    expect(text()).toBe('| Fm7 | Bb7 |');
  });

  test('a new bar is there with its first letter and gone with its last', async () => {
    await open('| Fm7 |');
    beginEdit(1, 'B');
    writeDraft('Bb7');
    expect(text()).toBe('| Fm7 | Bb7 |');
    writeDraft('');
    expect(text()).toBe('| Fm7 |');
  });

  test('bars that did not change stay the same objects', async () => {
    await open('A:\n| Fm7 | Bb7 | Ebmaj7 |\nB:\n| Gm7 |');
    const before = $page.get();
    beginEdit(1, 'E7');
    const after = $page.get();
    expect(after.bars.map((bar, index) => bar === before.bars[index])).toEqual([true, false, true, true]);
    expect(after.sections.map((section, index) => section === before.sections[index])).toEqual([false, true]);
  });
});

describe('what else is done to bars', () => {
  test('several bars pasted go on past the end', async () => {
    await open('| Fm7 | Bb7 |');
    writeBars(1, 'Gm7 | C7\nFmaj7');
    expect(text()).toBe('| Fm7 | Gm7 | C7 | Fmaj7 |');
    expect($chosenBar.get()).toBe(3);
    undo();
    expect(text()).toBe('| Fm7 | Bb7 |');
  });

  test('a bar put in is written at once; one taken out leaves the choice in place', async () => {
    await open('| Fm7 | Bb7 |');
    newBarAfter(0);
    expect($barEdit.get()).toMatchObject({ index: 1, draft: '' });
    writeDraft('C7');
    expect(text()).toBe('| Fm7 | C7 | Bb7 |');
    takeBarOut(0);
    expect([text(), $chosenBar.get()]).toEqual(['| C7 | Bb7 |', 0]);
  });

  test('typing a heading is one step back; in the text a pause begins another', async () => {
    await open('| Fm7 |');
    writeHeading('tempo', '1');
    writeHeading('tempo', '12');
    writeHeading('tempo', '120');
    undo();
    expect(text()).toBe('| Fm7 |');
    writeText('| Fm7 |x', 10_000);
    writeText('| Fm7 |xy', 10_100);
    writeText('| Fm7 |xyz', 20_000);
    undo();
    expect(text()).toBe('| Fm7 |xy');
    undo();
    expect(text()).toBe('| Fm7 |');
  });
});

describe('in another key', () => {
  test('pins go with their slots, keys and thumbs with the key; one step back', async () => {
    await open('key: C major\n| Dm7 G7 | Cmaj7 |');
    const pins = {
      analysis: { regions: [{ slot: 'b1.1', pass: 1, key: key('C major') }], numerals: [] },
      plan: { chordScales: [], positions: [{ slot: 'b1.2', pass: 1, shape: 'minor pentatonic', thumbMidi: 60 }] },
    };
    changeLesson({ choices: { pins: pins as unknown as (typeof DEFAULT_CHOICES)['pins'] } });
    transposeTo(key('Eb major'), key('C major'));
    const moved = $open.get()?.choices.pins;
    expect(text()).toBe('key: Eb major\n| Fm7 Bb7 | Ebmaj7 |');
    expect(moved?.analysis.regions.map((pin) => [pin.slot, formatKey(pin.key)])).toEqual([['b1.1', 'Eb major']]);
    expect(moved?.plan.positions.map((pin) => [pin.slot, pin.thumbMidi])).toEqual([['b1.2', 63]]);
    undo();
    expect(text()).toBe('key: C major\n| Dm7 G7 | Cmaj7 |');
    expect($open.get()?.choices.pins.plan.positions.map((pin) => pin.thumbMidi)).toEqual([60]);
  });
});
