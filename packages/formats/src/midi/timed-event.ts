import { beatTicksOf, TICKS_PER_QUARTER, type Meter } from '@fivespan/core';
import type { MidiEvent } from 'midi-file';

/** An event at its place in the file, before places become distances. */
export interface TimedEvent {
  readonly ticks: number;
  /** Order among events of one place: what describes the music, note-offs, note-ons. */
  readonly rank: 0 | 1 | 2;
  readonly event: MidiEvent;
}

/** The longest distance between two events: four bytes of seven bits. Source: SMF 1.1, variable-length quantities. */
export const LARGEST_DELTA = 0x0fffffff;

/** The longest tempo: three bytes. Source: SMF 1.1, FF 51 03. */
const LARGEST_TEMPO = 0xffffff;

/**
 * A value that fits where the format holds it.
 * @throws RangeError where it does not
 */
export function inRange(name: string, value: number, low: number, high: number): number {
  if (!Number.isInteger(value) || value < low || value > high) {
    throw new RangeError(`${name} must be an integer from ${low} to ${high}, not ${value}`);
  }
  return value;
}

/** UTF-8, one byte a character: the library writes the low byte of each. */
export function bytesAsText(text: string): string {
  return Array.from(new TextEncoder().encode(text), (byte) => String.fromCharCode(byte)).join('');
}

/**
 * A tempo event's microseconds a quarter.
 * @param quartersAMinute tempo in quarter notes
 */
export function microsecondsAQuarter(quartersAMinute: number): number {
  return inRange('tempo', Math.round(60_000_000 / quartersAMinute), 1, LARGEST_TEMPO);
}

/** A metre, one click a beat. */
export function timeSignature(meter: Meter): MidiEvent {
  return {
    deltaTime: 0,
    type: 'timeSignature',
    numerator: inRange('meter.count', meter.count, 1, 255),
    denominator: meter.unit,
    metronome: inRange('clocks a click', (24 * beatTicksOf(meter)) / TICKS_PER_QUARTER, 1, 255),
    thirtyseconds: 8,
  };
}

/** A track: places become distances, and it ends with the music's last tick. */
export function trackOf(events: readonly TimedEvent[], lengthTicks: number): MidiEvent[] {
  const sorted = [...events].sort((a, b) => a.ticks - b.ticks || a.rank - b.rank);
  let at = 0;
  const end: TimedEvent = { ticks: lengthTicks, rank: 2, event: { deltaTime: 0, type: 'endOfTrack', meta: true } };
  return [...sorted, end].map(({ ticks, event }) => {
    const deltaTime = inRange('distance in ticks', ticks - at, 0, LARGEST_DELTA);
    at = ticks;
    return { ...event, deltaTime };
  });
}
