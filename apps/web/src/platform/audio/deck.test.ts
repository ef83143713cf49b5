import type { RenderedNote } from '@fivespan/sound/engine';
import { describe, expect, test } from 'vitest';
import { DeckClock } from './deck-clock.ts';
import { Deck } from './deck.ts';
import type { DeckReport, PieceWindow } from './messages.ts';

const RATE = 48_000;
const BLOCK = 128;

/** A click: one loud sample, then silence. Where it lies is where the note began. */
function click(): RenderedNote {
  const sound = new Float32Array(256);
  sound[0] = 0.5;
  return {
    left: sound,
    right: sound,
    isCut: false,
    peaksAhead: Float32Array.of(0.5),
    release: { frames: 64, coarse: Float32Array.of(1, 0), fine: new Float32Array(64).fill(1) },
    exclusiveClass: 0,
  };
}

const window = (index: number, starts: readonly number[]): PieceWindow => ({
  index,
  fromSeconds: index,
  toSeconds: index + 1,
  startSeconds: Float64Array.from(starts),
  leftSeconds: Float64Array.from(starts, (start) => start + 0.1),
  note: new Int32Array(starts.length),
  player: new Int32Array(starts.length),
  gainLeft: new Float32Array(starts.length).fill(1),
  gainRight: new Float32Array(starts.length).fill(1),
});

/** A deck on whose audio clock seconds pass at our will. */
class Stand {
  readonly reports: DeckReport[] = [];
  readonly deck = new Deck(RATE, (report) => this.reports.push(report));
  /** Frames at which something began to sound. */
  readonly clicks: number[] = [];
  frame = 0;
  #sent = false;

  constructor(endSeconds: number) {
    this.deck.obey({
      kind: 'begin',
      number: 1,
      piece: { playerCount: 1, balance: Float64Array.of(1), endSeconds, slowestRate: 0.5 },
    });
  }

  put(...windows: PieceWindow[]): void {
    for (const each of windows) {
      const notes = this.#sent ? [] : [{ number: 0, note: click() }];
      this.#sent = true;
      this.deck.obey({ kind: 'put', delivery: { window: each, notes, forgotten: [] } });
    }
  }

  pass(seconds: number): void {
    const left = new Float32Array(BLOCK);
    const right = new Float32Array(BLOCK);
    const until = this.frame + Math.round((seconds * RATE) / BLOCK) * BLOCK;
    for (; this.frame < until; this.frame += BLOCK) {
      this.deck.process(left, right, BLOCK, this.frame / RATE);
      for (let index = 0; index < BLOCK; index++) if ((left[index] ?? 0) > 0.4) this.clicks.push(this.frame + index);
    }
  }
}

describe('a deck', () => {
  test('plays windows as one piece, each note on its frame', () => {
    const stand = new Stand(3);
    stand.put(window(0, [0, 0.9999]), window(1, [1, 1.5]), window(2, [2.25]));
    stand.deck.obey({ kind: 'play' });
    stand.pass(3.5);
    expect(stand.clicks).toEqual([0, 0.9999, 1, 1.5, 2.25].map((seconds) => Math.round(seconds * RATE)));
    expect(stand.reports.at(-1)?.state).toBe('ended');
  });

  test('waits for a window that is late, and loses no note of it', () => {
    const stand = new Stand(2);
    stand.put(window(0, [0.5]));
    stand.deck.obey({ kind: 'play' });
    stand.pass(2);
    expect(stand.reports.at(-1)).toMatchObject({ state: 'waiting', rate: 0 });
    const held = stand.reports.at(-1)?.positionSeconds ?? 0;
    expect(held).toBeLessThan(1);
    stand.put(window(1, [1, 1.25]));
    const resumed = stand.frame;
    stand.pass(1.5);
    expect(stand.clicks).toEqual([
      0.5 * RATE,
      resumed + Math.round((1 - held) * RATE),
      resumed + Math.round((1.25 - held) * RATE),
    ]);
  });

  test('goes from a count-in to any place on the very frame', () => {
    const stand = new Stand(10);
    stand.put(window(0, [0, 0.25]), window(7, [7.2, 7.5]));
    // in the middle of a block
    stand.deck.obey({ kind: 'jump', jump: { fromSeconds: 0.40001, toSeconds: 7.19 } });
    stand.deck.obey({ kind: 'play' });
    stand.pass(0.9);
    const jumped = Math.round(0.40001 * RATE);
    expect(stand.clicks).toEqual([0, 0.25 * RATE, jumped + Math.round(0.01 * RATE), jumped + Math.round(0.31 * RATE)]);
  });

  test('goes round a loop, says so, and asks for what the loop begins with', () => {
    const stand = new Stand(10);
    stand.put(window(0, [0.5]), window(1, [1.25]));
    stand.deck.obey({ kind: 'loop', loop: { fromSeconds: 0.5, toSeconds: 1.5, rest: null } });
    stand.deck.obey({ kind: 'seek', seconds: 0.5 });
    stand.deck.obey({ kind: 'play' });
    stand.pass(2.9);
    expect(stand.clicks).toEqual([0, 0.75, 1, 1.75, 2, 2.75].map((seconds) => seconds * RATE));
    expect(stand.reports.at(-1)?.loopPasses).toBe(2);
    stand.deck.obey({ kind: 'drop', windows: [0] });
    stand.pass(1);
    expect(stand.reports.at(-1)?.state).toBe('waiting');
  });

  test('goes round a loop through a rest that lies elsewhere, on the very frame', () => {
    const stand = new Stand(10);
    stand.put(window(0, [0.25]), window(1, [1.25]), window(2, []));
    // a quarter of a second of rest with a click in it, then a second of the loop
    stand.deck.obey({
      kind: 'loop',
      loop: { fromSeconds: 1, toSeconds: 2, rest: { fromSeconds: 0.25, toSeconds: 0.5 } },
    });
    stand.deck.obey({ kind: 'seek', seconds: 1 });
    stand.deck.obey({ kind: 'play' });
    stand.pass(3);
    expect(stand.clicks).toEqual([0.25, 1, 1.5, 2.25, 2.75].map((seconds) => seconds * RATE));
    expect(stand.reports.at(-1)?.loopPasses).toBe(2);
    // without the loop it goes on where it is
    stand.deck.obey({ kind: 'loop', loop: null });
    stand.pass(1.6);
    expect(stand.reports.at(-1)?.state).toBe('waiting');
  });

  test('plays slower, and its reports tell where it is at any moment', () => {
    const stand = new Stand(3);
    const clock = new DeckClock();
    stand.put(window(0, [0]), window(1, [1]), window(2, []));
    stand.deck.obey({ kind: 'play' });
    stand.pass(0.5);
    stand.deck.obey({ kind: 'rate', rate: 0.5 });
    stand.pass(1.5);
    for (const report of stand.reports) clock.add(report);
    const [, second = 0] = stand.clicks;
    expect(clock.at(second / RATE)?.positionSeconds).toBeCloseTo(1, 3);
    expect(clock.at(0.25)?.positionSeconds).toBeCloseTo(0.25, 3);
    // what was asked for is heard only later: the past stays what it was
    expect(clock.at(0.49)?.positionSeconds).toBeCloseTo(0.49, 3);
  });

  test('pauses within ten milliseconds and reports it', () => {
    const stand = new Stand(2);
    stand.put(window(0, [0, 0.6]), window(1, []));
    stand.deck.obey({ kind: 'play' });
    stand.pass(0.3);
    stand.deck.obey({ kind: 'pause' });
    stand.pass(1);
    expect(stand.clicks).toEqual([0]);
    expect(stand.reports.at(-1)).toMatchObject({ state: 'paused', rate: 0 });
  });
});
