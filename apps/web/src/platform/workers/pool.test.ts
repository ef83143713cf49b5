import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { WorkerOrder, WorkerReport } from './messages.ts';
import { WorkerPool } from './pool.ts';

/** A worker that answers when the test says so. */
class StillWorker extends EventTarget {
  readonly orders: WorkerOrder[] = [];
  isEnded = false;
  postMessage(order: WorkerOrder): void {
    this.orders.push(order);
  }
  terminate(): void {
    this.isEnded = true;
  }
  answer(report: WorkerReport): void {
    this.dispatchEvent(new MessageEvent('message', { data: report }));
  }
}

let made: StillWorker[] = [];
const pool = (): WorkerPool =>
  new WorkerPool(() => {
    const worker = new StillWorker();
    made.push(worker);
    return worker as unknown as Worker;
  });

beforeEach(() => {
  made = [];
  vi.useFakeTimers();
  vi.stubGlobal('navigator', { hardwareConcurrency: 2 });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

test('a job over its time is ended with its worker, and the next gets another', async () => {
  const workers = pool();
  const slow = workers.run('slow', null, { limitMs: 1000 });
  const next = workers.run('next', null);
  const failed = expect(slow).rejects.toMatchObject({ name: 'TimeoutError' });
  await vi.advanceTimersByTimeAsync(999);
  expect(made).toHaveLength(1);
  await vi.advanceTimersByTimeAsync(1);
  await failed;
  expect(made[0]?.isEnded).toBe(true);
  expect(made[1]?.orders).toMatchObject([{ kind: 'run', job: 'next' }]);
  made[1]?.answer({ kind: 'done', number: 2, value: 'made' });
  await expect(next).resolves.toBe('made');
});

test('a job within its time keeps its worker', async () => {
  const workers = pool();
  const job = workers.run('quick', null, { limitMs: 1000 });
  await vi.advanceTimersByTimeAsync(0);
  made[0]?.answer({ kind: 'done', number: 1, value: 7 });
  await expect(job).resolves.toBe(7);
  await vi.advanceTimersByTimeAsync(5000);
  expect(made[0]?.isEnded).toBe(false);
});

test('the time of a job counts from its beginning, not while it waits', async () => {
  const workers = pool();
  const first = workers.run('first', null);
  const second = workers.run('second', null, { limitMs: 1000 });
  await vi.advanceTimersByTimeAsync(5000);
  made[0]?.answer({ kind: 'done', number: 1, value: 1 });
  await first;
  made[0]?.answer({ kind: 'done', number: 2, value: 2 });
  await expect(second).resolves.toBe(2);
});

test('no worker is started before the page says so', async () => {
  let go = (): void => undefined;
  const workers = new WorkerPool(
    () => {
      const worker = new StillWorker();
      made.push(worker);
      return worker as unknown as Worker;
    },
    new Promise<void>((resolve) => {
      go = resolve;
    }),
  );
  void workers.run('early', null);
  await vi.advanceTimersByTimeAsync(5000);
  expect(made).toHaveLength(0);
  go();
  await vi.advanceTimersByTimeAsync(0);
  expect(made[0]?.orders).toMatchObject([{ kind: 'run', job: 'early' }]);
});

test('files wait while keys go down, and get on all the same', async () => {
  let key = (): void => undefined;
  vi.stubGlobal('addEventListener', (_type: string, listener: () => void) => {
    key = listener;
  });
  const workers = pool();
  void workers.run('file 1', null, { urgency: 'later' });
  void workers.run('file 2', null, { urgency: 'later' });
  void workers.run('file 3', null, { urgency: 'later' });
  await vi.advanceTimersByTimeAsync(0);
  const jobs = (): unknown[] => made[0]?.orders.map((order) => (order.kind === 'run' ? order.job : order.kind)) ?? [];
  key();
  made[0]?.answer({ kind: 'done', number: 1, value: 1 });
  expect(jobs()).toEqual(['file 1']);
  // what a hand waits for does not wait
  const now = workers.run('lesson', null, { urgency: 'now' });
  expect(jobs()).toEqual(['file 1', 'lesson']);
  made[0]?.answer({ kind: 'done', number: 4, value: 'made' });
  await expect(now).resolves.toBe('made');
  await vi.advanceTimersByTimeAsync(600);
  expect(jobs()).toEqual(['file 1', 'lesson', 'file 2']);
  // one who never stops typing: a file every two seconds
  made[0]?.answer({ kind: 'done', number: 2, value: 2 });
  for (let passedMs = 0; passedMs < 2400; passedMs += 100) {
    key();
    await vi.advanceTimersByTimeAsync(100);
  }
  expect(jobs()).toEqual(['file 1', 'lesson', 'file 2', 'file 3']);
});
