import 'fake-indexeddb/auto';
import { DEFAULT_CHOICES, ENGINE_VERSION, NO_AIDS, parseKey, writeLessonDocument, type Key } from '@fivespan/core';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { LessonStore, memoryRecords } from '../../platform/storage/index.ts';
import { $open, changeLesson, closeLesson, flush, openLesson, undo } from '../open-lesson/index.ts';
import {
  $barEdit,
  $chosenBar,
  $page,
  $reading,
  $shownIn,
  beginEdit,
  cancelEdit,
  emptyBar,
  endEdit,
  newBarAfter,
  showIn,
  suggestionOf,
  takeBarOut,
  takeSuggestion,
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

describe('a field and its lesson', () => {
  test('a field does not outlive its lesson: what is typed into what is left of it changes no other', async () => {
    await open('| Fm7 | Bb7 |');
    beginEdit(1, 'E');
    const left = $barEdit.get();
    await open('| Cmaj7 | Am7 |');
    expect([$barEdit.get(), $chosenBar.get()]).toEqual([null, 0]);
    // the browser's Back takes the page away without a word to its fields
    $barEdit.set(left);
    writeDraft('Eb7');
    expect([text(), $barEdit.get()]).toEqual(['| Cmaj7 | Am7 |', null]);
    $barEdit.set(left);
    cancelEdit();
    expect([text(), $barEdit.get()]).toEqual(['| Cmaj7 | Am7 |', null]);
  });

  test('what came from elsewhere while a bar is written stays', async () => {
    await open('| Fm7 | Bb7 |');
    beginEdit(1, 'E');
    changeLesson({ chartText: '| Gm7 | E | C7 |' });
    writeDraft('Eb');
    expect(text()).toBe('| Gm7 | Eb | C7 |');
    cancelEdit();
    expect(text()).toBe('| Gm7 | E | C7 |');
  });

  test('bar lines are not written into a bar; what was typed stays when its field is left', async () => {
    await open('| Fm7 | Bb7 |');
    beginEdit(1, 'Eb7');
    writeDraft('Eb7 | Ab7');
    endEdit();
    expect(text()).toBe('| Fm7 | Eb7 Ab7 |');
  });

  test('the page stays as it is while a change goes to the disk, and when something else is chosen', async () => {
    await open('| Fm7 | Bb7 |');
    const before = [$reading.get(), $page.get()];
    changeLesson({ choices: { seed: 7 } });
    await flush();
    expect($open.get()).toMatchObject({ saving: 'saved', choices: { seed: 7 } });
    expect([$reading.get(), $page.get()].map((each, index) => each === before[index])).toEqual([true, true]);
  });
});

describe('what would be right', () => {
  const faults = () => $open.get()?.issues ?? [];

  test.each([
    ['| Dm7 | Gmx7 | C |', 'Gm7', '| Dm7 | Gm7 | C |'],
    ['| Dm7 | C / / /&Gmx7 |', 'Gm7', '| Dm7 | C / / /&Gm7 |'],
    ['# for 𝄞 and 𝄢\n| % | 𝄞 Bb7 | Fmx7 |', 'Fm7', '# for 𝄞 and 𝄢\n| % | 𝄞 Bb7 | Fm7 |'],
    ['| Bb7 Ebmaj7 C7 |', 'Bb7 / Ebmaj7 C7', '| Bb7 / Ebmaj7 C7 |'],
  ])('%s: %s is put in', async (chartText, suggestion, right) => {
    await open(chartText);
    const fault = faults().findLast((each) => suggestionOf(each) !== null);
    if (fault === undefined) throw new Error('no suggestion');
    expect(suggestionOf(fault)).toBe(suggestion);
    expect([takeSuggestion(fault), text()]).toEqual([true, right]);
    // a fault that is there no more changes nothing; it is one step back
    expect([takeSuggestion(fault), text()]).toEqual([false, right]);
    undo();
    expect(text()).toBe(chartText);
  });

  test('what no single word puts right has none', async () => {
    await open('|: Fm7 | Hx |');
    expect(faults().map(suggestionOf)).toEqual([null, null]);
  });
});

describe('what is pinned, while a bar is typed', () => {
  type Pins = (typeof DEFAULT_CHOICES)['pins'];
  const pinsAt = (...slots: string[]): Pins => {
    const positions = slots.map((slot) => ({ slot, pass: 1, shape: 'minor pentatonic', thumbMidi: 60 }));
    return { ...DEFAULT_CHOICES.pins, plan: { ...DEFAULT_CHOICES.pins.plan, positions } } as unknown as Pins;
  };
  const pinned = (): unknown => $open.get()?.choices.pins.plan.positions.map(({ slot }) => slot);

  test('other chords in the same places keep their pins, though there were fewer on the way', async () => {
    await open('| Dm7 G7 | Cmaj7 |');
    changeLesson({ choices: { pins: pinsAt('b1.1', 'b1.2', 'b2.1') } });
    beginEdit(0, 'E');
    expect(pinned()).toEqual(['b1.1', 'b2.1']);
    for (const draft of ['Em', 'Em7', 'Em7 ', 'Em7 A', 'Em7 A7']) writeDraft(draft);
    expect(pinned()).toEqual(['b1.1', 'b1.2', 'b2.1']);
    // fewer in the end: the pin of the one that stays, and of it alone
    writeDraft('Em7');
    endEdit();
    expect(pinned()).toEqual(['b1.1', 'b2.1']);
    undo();
    expect([text(), pinned()]).toEqual(['| Dm7 G7 | Cmaj7 |', ['b1.1', 'b1.2', 'b2.1']]);
  });

  test('what is pinned in between is not lost to what was there before', async () => {
    await open('| Dm7 G7 |');
    changeLesson({ choices: { pins: pinsAt('b1.2') } });
    changeLesson({ chartText: '| Dm7 A7 |', together: 'one' });
    changeLesson({ choices: { pins: pinsAt('b1.1') }, together: 'one' });
    changeLesson({ chartText: '| Em7 A7 |', together: 'one' });
    expect(pinned()).toEqual(['b1.1']);
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
  test('chart and pins stay as they are written, a programme goes along; one step back', async () => {
    const written = 'key: C major\n| Dm7 G7 | Cmaj7 |';
    await open(written);
    const chorus = { tempoBpm: 120, players: ['bass'] } as const;
    const inKeys = (...names: string[]) => ({
      ...({ setUp: 'trio', swing: 'measured', voicings: 'rootless', countInBars: 1, aids: NO_AIDS } as const),
      choruses: names.map((name) => ({ ...chorus, key: key(name) })),
    });
    changeLesson({ choices: { programme: inKeys('C major', 'A major') } });
    const before = $open.get()?.choices;
    showIn(key('Eb major'), key('C major'));
    expect(text()).toBe(written);
    expect($open.get()?.choices).toEqual({
      ...before,
      shownIn: key('Eb major'),
      programme: inKeys('Eb major', 'A major'),
    });
    showIn(key('G major'), key('C major'));
    showIn(key('C major'), key('C major'));
    expect($open.get()?.choices).toEqual(before);
    undo();
    expect($shownIn.get()).toEqual(key('G major'));
  });
});
