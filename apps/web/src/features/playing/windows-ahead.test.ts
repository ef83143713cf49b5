import { describe, expect, test } from 'vitest';
import { windowsAhead } from './windows-ahead.ts';
import { WINDOW_SECONDS, windowBounds, windowsIn } from '../sound/windows.ts';
import { SentNotes } from './sent-notes.ts';

describe('windows', () => {
  test('cover a piece without gaps, the last one with all that still rings', () => {
    for (const end of [0, 3.9, 4, 4.1, 401]) {
      const bounds = Array.from({ length: windowsIn(end) }, (_, index) => windowBounds(index, end));
      expect(bounds[0]?.fromSeconds).toBe(0);
      for (const [index, { fromSeconds }] of bounds.entries()) {
        if (index > 0) expect(bounds[index - 1]?.toSeconds).toBe(fromSeconds);
      }
      expect(bounds.at(-1)?.toSeconds).toBeGreaterThan(end);
    }
  });

  const ahead = (positionSeconds: number, turns: Partial<Parameters<typeof windowsAhead>[0]> = {}) =>
    windowsAhead({ positionSeconds, endSeconds: 100, jump: null, loop: null, ...turns });

  test('are wanted in the order in which they will sound', () => {
    expect(ahead(0)).toEqual([0, 1, 2, 3, 4]);
    expect(ahead(9)).toEqual([2, 3, 4, 5, 6]);
    expect(ahead(93)).toEqual([23, 24]);
    expect(ahead(1000)).toEqual([24]);
  });

  test('go round with a loop and on with a jump', () => {
    expect(ahead(9, { loop: { fromSeconds: 1, toSeconds: 11, rest: null } })).toEqual([2, 0, 1]);
    expect(ahead(0, { jump: { leave: 3.6, enter: 50 } })).toEqual([0, 12, 13, 14, 15]);
    expect(ahead(0, { jump: { leave: 3.6, enter: 50 }, loop: { fromSeconds: 50, toSeconds: 59, rest: null } })).toEqual(
      [0, 12, 13, 14],
    );
    // taken already
    expect(ahead(51, { jump: { leave: 3.6, enter: 50 } })).toEqual([12, 13, 14, 15, 16]);
    // out to a rest in the first window and back
    const rest = { fromSeconds: 1, toSeconds: 3 };
    expect(ahead(9, { loop: { fromSeconds: 8, toSeconds: 11, rest } })).toEqual([2, 0]);
    // a long loop is not wanted as a whole
    expect(ahead(60, { loop: { fromSeconds: 0, toSeconds: 64 * WINDOW_SECONDS, rest: null } })).toHaveLength(5);
  });
});

describe('sent notes', () => {
  test('are sent once', () => {
    const sent = new SentNotes(1000);
    expect(sent.use('a', 0, 400)).toEqual({ number: 0, isNew: true });
    expect(sent.use('b', 0, 400)).toEqual({ number: 1, isNew: true });
    expect(sent.use('a', 1, 400)).toEqual({ number: 0, isNew: false });
    expect(sent.forget(new Set([1]))).toEqual([]);
  });

  test('are forgotten when there are too many, longest unused first, never one that a kept window needs', () => {
    const sent = new SentNotes(1000);
    for (const [index, name] of ['a', 'b', 'c', 'd'].entries()) sent.use(name, index, 400);
    sent.use('a', 4, 400);
    // a is needed by window 4, b by 1: c goes, and that is enough
    expect(sent.forget(new Set([1, 4]))).toEqual([2, 3]);
    expect(sent.bytes).toBe(800);
    expect(sent.use('c', 5, 400)).toEqual({ number: 4, isNew: true });
  });
});
