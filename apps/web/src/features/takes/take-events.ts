/** A take as it comes in, event by event, and the take that is made of it: also of what is left after a crash. */
import type { Take, TakeNote, TakePedal } from '@fivespan/core';

/** What is written at once as it is played: microseconds from the take's start, which kind, which key or controller, how much. */
export type TakeEvent = readonly [atMicros: number, kind: 0 | 1 | 2, number: number, value: number];

export const KEY_UP = 0;
export const KEY_DOWN = 1;
export const PEDAL = 2;

/** A key that nobody let go of any more sounds as long as the last thing that was heard, and this much at least. */
const LEAST_MICROS = 100_000;

const isByte = (value: number | undefined): value is number =>
  value !== undefined && Number.isInteger(value) && value >= 0 && value <= 127;

/**
 * The notes and pedals of events, in order of time. What is no event is passed over: it may come off a disk.
 * @example notesOf([[0, 1, 60, 80], [500000, 0, 60, 0]]).notes // → one note, half a second long
 */
export function notesOf(events: readonly (readonly number[])[]): Pick<Take, 'notes' | 'pedals'> {
  const notes: TakeNote[] = [];
  const pedals: TakePedal[] = [];
  const down = new Map<number, { readonly startMicros: number; readonly velocity: number }>();
  let last = 0;
  const end = (key: number, endMicros: number): void => {
    const struck = down.get(key);
    if (struck === undefined) return;
    down.delete(key);
    const durationMicros = Math.max(1, endMicros - struck.startMicros);
    notes.push({ ...struck, durationMicros, key, channel: 0 });
  };
  // a key's end may be told after the next key: times are what counts
  for (const [at = -1, kind, number, value] of events.toSorted(([a = 0, x = 0], [b = 0, y = 0]) => a - b || x - y)) {
    if (!Number.isInteger(at) || at < 0 || !isByte(number) || !isByte(value)) continue;
    last = Math.max(last, at);
    if (kind === PEDAL) pedals.push({ atMicros: at, value, channel: 0 });
    else {
      end(number, at);
      if (kind === KEY_DOWN && value > 0) down.set(number, { startMicros: at, velocity: value });
    }
  }
  for (const [key, { startMicros }] of down) end(key, Math.max(last, startMicros + LEAST_MICROS));
  return { notes: notes.toSorted((a, b) => a.startMicros - b.startMicros || a.key - b.key), pedals };
}
