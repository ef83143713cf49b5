import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { AudioOut, DeckReport, PieceSettings } from '../../platform/audio/index.ts';
import type { HeardNote } from './heard-note.ts';
import type { HearOrder, HeardWindow } from './hear-job.ts';
import { Hearing } from './hearing.ts';
import { WINDOW_SECONDS } from './windows.ts';

const { runJob } = vi.hoisted(() => ({ runJob: vi.fn<(job: string, order: HearOrder) => Promise<HeardWindow>>() }));
vi.mock('../../platform/workers/index.ts', () => ({ runJob }));
vi.mock('../../platform/audio/index.ts', () => ({ BANK_URL: 'bank' }));
vi.mock('../settings/index.ts', () => ({ $settings: { subscribe: vi.fn<() => void>() } }));

/** A deck that keeps what it is given and says what it is told to. */
class StillDeck {
  readonly sampleRate = 48_000;
  readonly windows = new Set<number>();
  readonly notes = new Set<number>();
  readonly orders: string[] = [];
  piece = 0;
  heard: Partial<DeckReport> | undefined;
  #listener: ((report: DeckReport) => void) | undefined;
  order(_deck: string, order: { kind: string; number?: number; windows?: readonly number[] }): void {
    this.orders.push(order.kind);
    if (order.kind === 'begin') this.piece = order.number ?? 0;
    for (const window of order.windows ?? []) this.windows.delete(window);
  }
  put(_deck: string, { window, notes, forgotten }: HeardWindow['delivery']): void {
    for (const number of forgotten) this.notes.delete(number);
    for (const { number } of notes) this.notes.add(number);
    this.windows.add(window.index);
  }
  listen(_deck: string, listener: (report: DeckReport) => void): () => void {
    this.#listener = listener;
    return () => (this.#listener = undefined);
  }
  positionNow(): Partial<DeckReport> | undefined {
    return this.heard;
  }
  at(positionSeconds: number): void {
    this.#listener?.({
      contextSeconds: 0,
      piece: this.piece,
      positionSeconds,
      rate: 1,
      state: 'playing',
      loopPasses: 0,
    });
  }
}

/** Two notes a second for a minute. */
const MINUTE: readonly HeardNote[] = Array.from({ length: 120 }, (_, index) => ({
  startSeconds: index / 2,
  durationSeconds: 0.5,
  midi: 60,
  velocity: 80,
}));

beforeEach(() => {
  runJob.mockImplementation(async (_job, { index, notes, firstNumber }) => ({
    piece: {} as PieceSettings,
    delivery: {
      window: { index } as HeardWindow['delivery']['window'],
      notes: notes.map((_, place) => ({ number: firstNumber + place, note: {} })) as never,
      forgotten: [],
    },
  }));
});
afterEach(() => vi.clearAllMocks());

test('a long stretch comes a few seconds at a time, and what has sounded is given up', async () => {
  const deck = new StillDeck();
  const hearing = new Hearing(deck as unknown as AudioOut, MINUTE, new AbortController().signal, (error) => {
    throw error;
  });
  await hearing.begin();
  expect(deck.orders).toEqual(['begin', 'play']);
  for (let seconds = 0; seconds < 60; seconds += 0.5) {
    deck.at(seconds);
    // oxlint-disable-next-line no-await-in-loop -- time passes
    await vi.waitFor(() => expect(deck.windows).toContain(Math.floor(seconds / WINDOW_SECONDS)));
    expect(deck.windows.size).toBeLessThanOrEqual(4);
    expect(deck.notes.size).toBeLessThanOrEqual(4 * 2 * WINDOW_SECONDS);
  }
  const orders = runJob.mock.calls.map(([, order]) => order);
  expect(orders).toHaveLength(60 / WINDOW_SECONDS);
  expect(orders.flatMap(({ notes }) => notes)).toEqual(MINUTE);
  for (const { notes, index } of orders) {
    expect(notes).toHaveLength(2 * WINDOW_SECONDS);
    expect(Math.floor((notes[0]?.startSeconds ?? 0) / WINDOW_SECONDS)).toBe(index);
  }
});

test('where one is is where this piece is heard, not the one before', async () => {
  const deck = new StillDeck();
  const ended = new AbortController();
  const hearing = new Hearing(deck as unknown as AudioOut, MINUTE, ended.signal, vi.fn<() => void>());
  await hearing.begin();
  deck.heard = { piece: deck.piece - 1, state: 'playing', positionSeconds: 7 };
  expect(hearing.at()).toEqual({ kind: 'coming' });
  deck.heard = { piece: deck.piece, state: 'waiting', positionSeconds: 2 };
  expect(hearing.at()).toEqual({ kind: 'sounding', seconds: 2 });
  ended.abort();
  expect(hearing.at()).toEqual({ kind: 'over' });
});
