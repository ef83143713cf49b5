import { beforeEach, expect, test, vi } from 'vitest';
import { $orders, forgetOrder, order, stopOrder, type MadeFile } from './orders.ts';

vi.mock('../../platform/files/index.ts', () => ({ saveFile: vi.fn<() => void>() }));

const file = (name: string): MadeFile => ({ name, bytes: new Uint8Array(3), type: 'text/plain' });
const made = (name: string): Promise<void> => order({ kind: 'lesson' }, async () => file(name));
const failed = (): Promise<void> => order({ kind: 'lesson' }, () => Promise.reject(new Error('no')));
const states = (): string[] =>
  $orders.get().map(({ state }) => (state.kind === 'saved' ? `saved ${state.name}` : state.kind));

beforeEach(() => {
  for (const { id } of $orders.get()) forgetOrder(id);
});

test('of files that were saved the last is told: they do not pile up', async () => {
  for (const name of ['a', 'b', 'c', 'd']) await made(name);
  expect(states()).toEqual(['saved d']);
});

test('what could not be made stays until it is closed', async () => {
  await failed();
  await made('a');
  await made('b');
  expect(states()).toEqual(['failed', 'saved b']);
  for (let each = 0; each < 5; each++) await failed();
  expect(states().filter((each) => each === 'failed')).toHaveLength(3);
});

test('what is still being made stays, and the one that ends is told though it was asked for first', async () => {
  let end: (file: MadeFile) => void = () => {};
  const long = order({ kind: 'pack', keys: 12 }, () => new Promise((resolve) => (end = resolve)));
  await made('short');
  expect(states()).toEqual(['making', 'saved short']);
  end(file('long'));
  await long;
  expect(states()).toEqual(['saved long']);
});

test('a stopped one saves nothing', async () => {
  const long = order(
    { kind: 'pack', keys: 12 },
    ({ signal }) =>
      new Promise((_resolve, reject) => signal.addEventListener('abort', () => reject(signal.reason as Error))),
  );
  stopOrder($orders.get()[0]?.id ?? 0);
  await long;
  expect(states()).toEqual(['stopped']);
});
