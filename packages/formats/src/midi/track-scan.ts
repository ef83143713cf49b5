import type { Finger, Issue, Result } from '@fivespan/core';

/** The largest MIDI file taken. An hour of piano has about a megabyte. */
export const LARGEST_MIDI_BYTES = 8 * 1024 * 1024;

/** The most tracks taken; a file for an orchestra has some fifty. */
const MOST_TRACKS = 1000;

/** Where something stands in the file and in time. */
interface Placed {
  readonly ticks: number;
}

/** A key going down or up. */
export interface KeyEvent extends Placed {
  readonly kind: 'down' | 'up';
  readonly channel: number;
  readonly key: number;
  /** How hard it goes down, 1 to 127; of a key that comes up it says nothing. */
  readonly velocity: number;
  /** Just after the event's delta time: where an event of the same moment can be put in before it. */
  readonly at: number;
  /** Its status byte where the file leaves it out (running status), which a meta event put in before it would end. */
  readonly leftOutStatus: number | null;
  /** The finger that stands right before it, at the same moment, as a lyric or text. */
  readonly finger: Finger | null;
}

export interface ScannedTrack {
  /** Its name, bytes as Latin-1; empty where it has none. */
  readonly name: string;
  /** Where the four bytes of its length stand, and the length. */
  readonly lengthAt: number;
  readonly length: number;
  readonly keys: readonly KeyEvent[];
  /** Whether it has lyrics that are no fingers. */
  readonly hasLyrics: boolean;
  /** The sustain pedal, 0 to 127. Source: MIDI 1.0, controller 64. */
  readonly pedals: readonly (Placed & { readonly channel: number; readonly value: number })[];
}

export interface ScannedFile {
  readonly ticksAQuarter: number;
  readonly tracks: readonly ScannedTrack[];
  /** In time order, of all tracks. */
  readonly tempi: readonly (Placed & { readonly microsecondsAQuarter: number })[];
  readonly meters: readonly (Placed & { readonly count: number; readonly unit: number })[];
  /** Bytes as Latin-1, cut to 200. */
  readonly markers: readonly (Placed & { readonly text: string })[];
}

/** Thrown and caught here: a file that breaks off does so anywhere. */
class Damaged extends Error {}

/** Reads bytes one after the other and never past an end. */
interface ByteReading {
  at: number;
  readonly end: number;
  byte(): number;
  /** A variable-length quantity of at most four bytes. */
  length(): number;
  skip(count: number): number;
}

function byteReading(bytes: Uint8Array, from: number, end: number): ByteReading {
  const reading: ByteReading = {
    at: from,
    end,
    byte: () => {
      if (reading.at >= end) throw new Damaged('a track ends within an event');
      return bytes[reading.at++] as number;
    },
    length: () => {
      let value = 0;
      for (let count = 0; count < 4; count++) {
        const byte = reading.byte();
        value = (value << 7) | (byte & 0x7f);
        if (byte < 0x80) return value;
      }
      throw new Damaged('a length takes more than four bytes');
    },
    skip: (count) => {
      const start = reading.at;
      if (count > end - start) throw new Damaged('an event is longer than its track');
      reading.at += count;
      return start;
    },
  };
  return reading;
}

function number32(bytes: Uint8Array, at: number): number {
  return new DataView(bytes.buffer, bytes.byteOffset).getUint32(at);
}

function number16(bytes: Uint8Array, at: number): number {
  return new DataView(bytes.buffer, bytes.byteOffset).getUint16(at);
}

function idAt(bytes: Uint8Array, at: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + 4));
}

/** A finger as our copies have it: a lyric or text of one digit. */
function fingerIn(type: number, text: Uint8Array): Finger | null {
  const digit = (text[0] ?? 0) - 0x30;
  return (type === 0x05 || type === 0x01) && text.length === 1 && digit >= 1 && digit <= 5 ? (digit as Finger) : null;
}

/** Bytes after the status of channel events 8x to Ex. Source: MIDI 1.0. */
const DATA_BYTES = [2, 2, 2, 2, 1, 1, 2];

interface Timeline {
  readonly tempi: { readonly ticks: number; readonly microsecondsAQuarter: number }[];
  readonly meters: { readonly ticks: number; readonly count: number; readonly unit: number }[];
  readonly markers: { readonly ticks: number; readonly text: string }[];
}

/** More markers than this are no form of a tune. */
const MOST_MARKERS = 10_000;
const SUSTAIN = 64;

/** One track, event by event. Source: Standard MIDI Files 1.1, track chunks. */
function scanTrack(bytes: Uint8Array, lengthAt: number, timeline: Timeline): ScannedTrack {
  const length = number32(bytes, lengthAt);
  const reading = byteReading(bytes, lengthAt + 4, lengthAt + 4 + length);
  const keys: KeyEvent[] = [];
  const pedals: { ticks: number; channel: number; value: number }[] = [];
  let name = '';
  let hasLyrics = false;
  let ticks = 0;
  let running: number | null = null;
  let fingerBefore: Finger | null = null;
  while (reading.at < reading.end) {
    const delta = reading.length();
    ticks += delta;
    const finger = delta === 0 ? fingerBefore : null;
    fingerBefore = null;
    const at = reading.at;
    const first = reading.byte();
    if (first === 0xff) {
      const type = reading.byte();
      const size = reading.length();
      const start = reading.skip(size);
      fingerBefore = fingerIn(type, bytes.subarray(start, start + size));
      if (type === 0x03 && name === '') {
        name = String.fromCharCode(...bytes.subarray(start, start + Math.min(size, 200)));
      } else if (type === 0x06 && timeline.markers.length < MOST_MARKERS) {
        timeline.markers.push({
          ticks,
          text: String.fromCharCode(...bytes.subarray(start, start + Math.min(size, 200))),
        });
      } else if (type === 0x05) hasLyrics ||= fingerBefore === null;
      else if (type === 0x51 && size === 3) {
        timeline.tempi.push({ ticks, microsecondsAQuarter: number32(bytes, start - 1) & 0xffffff });
      } else if (type === 0x58 && size >= 2) {
        timeline.meters.push({ ticks, count: bytes[start] as number, unit: 2 ** (bytes[start + 1] as number) });
      } else if (type === 0x2f) break;
      continue;
    }
    if (first === 0xf0 || first === 0xf7) {
      reading.skip(reading.length());
      continue;
    }
    if (first > 0xf0) throw new Damaged(`a track holds the byte ${first} where an event begins`);
    if (first >= 0x80) running = first;
    else reading.at = at;
    if (running === null) throw new Damaged('a track begins within an event');
    const size = DATA_BYTES[(running >> 4) - 8] as number;
    const data = [reading.byte(), size === 2 ? reading.byte() : 0] as const;
    if (data[0] > 0x7f || data[1] > 0x7f) throw new Damaged('an event holds a number above 127');
    const command = running >> 4;
    if (command === 0xb && data[0] === SUSTAIN) pedals.push({ ticks, channel: running & 0xf, value: data[1] });
    if (command !== 8 && command !== 9) continue;
    const kind = command === 9 && data[1] > 0 ? 'down' : 'up';
    const leftOutStatus = first >= 0x80 ? null : running;
    keys.push({ ticks, kind, channel: running & 0xf, key: data[0], velocity: data[1], at, leftOutStatus, finger });
  }
  return { name, lengthAt, length, keys, hasLyrics, pedals };
}

function fault(code: Issue['code'], args: Issue['args']): Result<never> {
  return { ok: false, issues: [{ code, args, place: {} }] };
}

/**
 * Reads what a fingering needs out of a Standard MIDI File, with the places of its events, so that others can be put in
 * without touching a byte. Strict: a file that is cut off or lies about a length is an error, never an exception.
 * Source: Standard MIDI Files 1.1 (docs/sources.md, 8).
 */
export function scanMidi(bytes: Uint8Array): Result<ScannedFile> {
  if (bytes.length > LARGEST_MIDI_BYTES) {
    return fault('fingering.midi-kind', { what: `is larger than ${LARGEST_MIDI_BYTES} bytes` });
  }
  if (bytes.length < 14 || idAt(bytes, 0) !== 'MThd' || number32(bytes, 4) < 6) {
    return fault('fingering.midi-damaged', { reason: 'it has no header' });
  }
  const format = number16(bytes, 8);
  const trackCount = number16(bytes, 10);
  const division = number16(bytes, 12);
  if (format > 1) return fault('fingering.midi-kind', { what: `is of format ${format}` });
  if (division === 0 || division >= 0x8000) return fault('fingering.midi-kind', { what: 'is timed in film frames' });
  if (trackCount > MOST_TRACKS) return fault('fingering.midi-kind', { what: `has more than ${MOST_TRACKS} tracks` });
  const timeline: Timeline = { tempi: [], meters: [], markers: [] };
  const tracks: ScannedTrack[] = [];
  try {
    let at = 8 + number32(bytes, 4);
    while (tracks.length < trackCount) {
      if (at + 8 > bytes.length) throw new Damaged(`it has ${tracks.length} of its ${trackCount} tracks`);
      const length = number32(bytes, at + 4);
      if (length > bytes.length - at - 8) throw new Damaged('a track is longer than the file');
      // chunks of other kinds are passed over, as the standard asks
      if (idAt(bytes, at) === 'MTrk') tracks.push(scanTrack(bytes, at + 4, timeline));
      at += 8 + length;
    }
  } catch (error) {
    if (error instanceof Damaged) return fault('fingering.midi-damaged', { reason: error.message });
    throw error;
  }
  const tempi = timeline.tempi.filter((each) => each.microsecondsAQuarter > 0).sort((a, b) => a.ticks - b.ticks);
  const meters = timeline.meters.filter(({ count, unit }) => count > 0 && unit <= 64).sort((a, b) => a.ticks - b.ticks);
  const markers = timeline.markers.sort((a, b) => a.ticks - b.ticks);
  return { ok: true, value: { ticksAQuarter: division, tracks, tempi, meters, markers }, warnings: [] };
}
