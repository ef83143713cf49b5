import type { Finger } from '@fivespan/core';
import fc from 'fast-check';
import { parseMidi, writeMidi, type MidiData, type MidiEvent } from 'midi-file';
import { describe, expect, test } from 'vitest';
import { readMidiHand, writeMidiFingers, type MidiHand, type TrackChoice } from './finger-copy.ts';

const QUARTER = 480;

type Event = Omit<MidiEvent, 'deltaTime'> & { readonly deltaTime?: number };

const name = (text: string): MidiEvent => ({ deltaTime: 0, type: 'trackName', text });
const end: MidiEvent = { deltaTime: 0, type: 'endOfTrack' };
const down = (noteNumber: number, deltaTime = 0, channel = 0): MidiEvent => ({
  deltaTime,
  type: 'noteOn',
  channel,
  noteNumber,
  velocity: 80,
});
const up = (noteNumber: number, deltaTime = QUARTER, channel = 0): MidiEvent => ({
  deltaTime,
  type: 'noteOff',
  channel,
  noteNumber,
  velocity: 64,
});
const quarters = (...keys: readonly number[]): MidiEvent[] => keys.flatMap((key) => [down(key), up(key)]);

function fileOf(tracks: readonly (readonly Event[])[], header: Partial<MidiData['header']> = {}): Uint8Array {
  const full = { format: 1 as const, numTracks: tracks.length, ticksPerBeat: QUARTER, ...header };
  return Uint8Array.from(writeMidi({ header: full, tracks: tracks.map((track) => [...track] as MidiEvent[]) }));
}

function handOf(file: Uint8Array, choice: TrackChoice = { side: 'right' }): MidiHand {
  const hand = readMidiHand(file, choice);
  if (!hand.ok) throw new Error(JSON.stringify(hand.issues));
  return hand.value;
}

const issuesOf = (file: Uint8Array, choice: TrackChoice = { side: 'right' }) => {
  const hand = readMidiHand(file, choice);
  return hand.ok ? hand.warnings : hand.issues;
};
const codesOf = (...call: Parameters<typeof issuesOf>) => issuesOf(...call).map(({ code }) => code);
const keysOf = (...call: Parameters<typeof handOf>) => handOf(...call).notes.map(({ midi }) => midi as number);

/** A track's events by the clock, as the library reads them; what a status byte may be left out of is no matter. */
function timed(file: Uint8Array, track: number): { readonly ticks: number; readonly event: object }[] {
  let ticks = 0;
  return (parseMidi(file).tracks[track] ?? []).map((each) => {
    const { deltaTime, running: _, ...event } = each as MidiEvent & { running?: boolean };
    ticks += deltaTime;
    return { ticks, event };
  });
}

const isLyric = ({ event }: { readonly event: object }): boolean => 'type' in event && event.type === 'lyrics';

describe('which notes', () => {
  test('of named tracks the one of the hand', () => {
    const file = fileOf([
      [name('Piano right'), ...quarters(72, 74), end],
      [name('Piano LH'), ...quarters(48, 50), end],
    ]);
    expect(keysOf(file, { side: 'right' })).toEqual([72, 74]);
    expect(keysOf(file, { side: 'left' })).toEqual([48, 50]);
    expect(keysOf(file, { side: 'left', track: 1 })).toEqual([72, 74]);
  });

  test('of a single track those on the hand’s side of middle C, which is told; with --track all', () => {
    const file = fileOf([
      [name('Solo'), end],
      [...quarters(60, 59, 72, 40), end],
    ]);
    expect(keysOf(file, { side: 'right' })).toEqual([60, 72]);
    expect(keysOf(file, { side: 'left' })).toEqual([59, 40]);
    expect(codesOf(file)).toEqual(['fingering.hands-parted']);
    expect(keysOf(file, { side: 'left', track: 2 })).toEqual([60, 59, 72, 40]);
    expect(codesOf(file, { side: 'left', track: 2 })).toEqual([]);
    expect(codesOf(fileOf([[...quarters(72), end]]), { side: 'left' })).toEqual(['fingering.no-notes']);
  });

  test('of several the file’s own names are listed', () => {
    const file = fileOf([
      [name('One\nline'), ...quarters(72), end],
      [...quarters(48), end],
      [name('empty'), end],
    ]);
    const [issue] = issuesOf(file);
    expect(issue).toMatchObject({ code: 'fingering.which-track', args: { asked: '' } });
    expect(issue?.args['tracks']).toBe("1 'One line' (1 notes); 2 (1 notes)");
    expect(issuesOf(file, { side: 'right', track: 3 })[0]?.args['asked']).toBe('track 3');
  });

  test('drums have no fingers', () => {
    const file = fileOf([[down(40, 0, 9), up(40, QUARTER, 9), ...quarters(72), end]]);
    expect(keysOf(file, { side: 'right', track: 1 })).toEqual([72]);
  });

  test('keys within 30 ms are struck at once, whatever the tempo; the same key twice is not', () => {
    // at 120 quarters a minute 30 ms are 28.8 of 480 ticks to the quarter; at 60, 14.4
    const played = [down(60), down(64, 14), down(67, 14), up(60), up(64), up(67), down(60, 960), down(60, 10), up(60)];
    const strikes = (file: Uint8Array) => handOf(file, { side: 'right', track: 1 }).notes.map(({ strike }) => strike);
    expect(strikes(fileOf([[...played, end]]))).toEqual([0, 0, 0, 1, 2]);
    const slow: MidiEvent = { deltaTime: 0, type: 'setTempo', microsecondsPerBeat: 1_000_000 };
    expect(strikes(fileOf([[slow, ...played, end]]))).toEqual([0, 0, 1, 2, 3]);
  });

  test('bars, beats and ticks follow the metre', () => {
    const meter = (numerator: number, denominator: number, deltaTime = 0): MidiEvent => ({
      deltaTime,
      type: 'timeSignature',
      numerator,
      denominator,
      metronome: 24,
      thirtyseconds: 8,
    });
    const conductor = [meter(3, 4), meter(6, 8, 3 * QUARTER), end];
    const file = fileOf([conductor, [...quarters(60, 62, 64, 65, 67, 69, 71), end]]);
    const notes = handOf(file, { side: 'right' }).notes;
    expect(notes.map(({ bar }) => bar)).toEqual([1, 1, 1, 2, 2, 2, 3]);
    expect(notes.map(({ beatTicks }) => beatTicks)).toEqual([960, 960, 960, 1440, 1440, 1440, 1440]);
    expect(notes.map(({ startTicks }) => startTicks)).toEqual([0, 960, 1920, 2880, 3840, 4800, 5760]);
  });
});

describe('the copy', () => {
  const five: readonly Finger[] = [1, 2, 3, 4, 5];
  const tune = [60, 62, 64, 65, 67];

  test('has each finger as a lyric just before its key goes down, and nothing else is new', () => {
    const file = fileOf([
      [name('Right'), ...quarters(...tune), end],
      [name('Left'), ...quarters(48), end],
    ]);
    const copy = writeMidiFingers(handOf(file), five);
    const events = timed(copy, 0);
    for (const [index, key] of tune.entries()) {
      const at = events.findIndex(({ event }) => 'noteNumber' in event && event.noteNumber === key);
      expect(events[at - 1]).toEqual({
        ticks: events[at]?.ticks,
        event: { meta: true, type: 'lyrics', text: `${index + 1}` },
      });
    }
    expect(events.filter((each) => !isLyric(each))).toEqual(timed(file, 0));
    expect(timed(copy, 1)).toEqual(timed(file, 1));
  });

  test('read again has its fingers: they are obeyed, and there is nothing left to write', () => {
    const file = fileOf([[...quarters(...tune), down(60), down(64), up(60), up(64), end]]);
    const fingers: readonly Finger[] = [...five, 1, 3];
    const copy = writeMidiFingers(handOf(file), fingers);
    const again = handOf(copy);
    expect(again.notes.map(({ fixed }) => fixed)).toEqual(fingers);
    expect(writeMidiFingers(again, fingers)).toEqual(copy);
    // a number that stands some time before a note is no finger
    const counted = fileOf([[{ deltaTime: 0, type: 'lyrics', text: '4' }, down(60, 1), up(60), end]]);
    expect(handOf(counted).notes[0]?.fixed).toBeNull();
  });

  test('of a track that sings is text', () => {
    const file = fileOf([[{ deltaTime: 0, type: 'lyrics', text: 'la' }, ...quarters(60), end]]);
    const types = timed(writeMidiFingers(handOf(file), [3]), 0).map(({ event }) => 'type' in event && event.type);
    expect(types).toEqual(['lyrics', 'text', 'noteOn', 'noteOff', 'endOfTrack']);
  });

  test('law: any track, running status or not, is the same but for the lyrics, and every byte stays in order', () => {
    const one = fc.record({
      key: fc.integer({ min: 60, max: 90 }),
      channel: fc.integer({ min: 0, max: 2 }),
      delta: fc.integer({ min: 0, max: 300 }),
      kind: fc.constantFrom('noteOn', 'byte9', 'noteOff', 'pedal', 'bend', 'text', 'sysEx', 'program'),
    });
    const law = fc.property(fc.array(one, { minLength: 1, maxLength: 60 }), fc.boolean(), (drawn, running) => {
      const events = drawn.map(({ key, channel, delta, kind }): MidiEvent => {
        const at = { deltaTime: delta, channel };
        if (kind === 'noteOn') return { ...down(key, delta, channel), running } as MidiEvent;
        if (kind === 'byte9')
          return { ...at, type: 'noteOff', noteNumber: key, velocity: 0, byte9: true, running } as MidiEvent;
        if (kind === 'noteOff') return { ...up(key, delta, channel), running } as MidiEvent;
        if (kind === 'pedal')
          return { ...at, type: 'controller', controllerType: 64, value: key, running } as MidiEvent;
        if (kind === 'bend') return { ...at, type: 'pitchBend', value: key, running } as MidiEvent;
        if (kind === 'program') return { ...at, type: 'programChange', programNumber: key, running } as MidiEvent;
        if (kind === 'text') return { deltaTime: delta, type: 'text', text: 'x'.repeat(key * 3) };
        return { deltaTime: delta, type: 'sysEx', data: [key, 0xf7] } as unknown as MidiEvent;
      });
      const file = fileOf([[...events, ...quarters(60), end]]);
      const hand = handOf(file);
      const fingers = hand.notes.map((_, index): Finger => five[index % 5] as Finger);
      const copy = writeMidiFingers(hand, fingers);
      const written = timed(copy, 0);
      expect(written.filter((each) => !isLyric(each))).toEqual(timed(file, 0));
      expect(written.filter(isLyric).map(({ event }) => 'text' in event && event.text)).toEqual(fingers.map(String));
      // after the track's length every byte of the file is there, in order
      let at = 22;
      for (const byte of copy.subarray(22)) if (byte === file[at]) at++;
      expect(at).toBe(file.length);
    });
    fc.assert(law, { seed: 4, numRuns: 200 });
  });

  test('keeps chunks of other kinds and a long header', () => {
    const file = fileOf([[...quarters(60), end]]);
    const extra = [0x58, 0x46, 0x49, 0x48, 0, 0, 0, 2, 7, 7];
    const wrapped = Uint8Array.from([...file.subarray(0, 14), ...extra, ...file.subarray(14), ...extra]);
    const copy = writeMidiFingers(handOf(wrapped), [1]);
    expect([...copy.subarray(0, 24)]).toEqual([...wrapped.subarray(0, 24)]);
    expect([...copy.subarray(-10)]).toEqual(extra);
    expect(copy.length).toBe(wrapped.length + 5);
  });

  test('fingers for another number of notes are a programmer’s mistake', () => {
    expect(() => writeMidiFingers(handOf(fileOf([[...quarters(60), end]])), [])).toThrow(/fingers must be 1/u);
  });
});

describe('files that are none', () => {
  const good = fileOf([[name('Right'), ...quarters(60, 64), end]]);

  test('cut off anywhere: an issue, never an exception', () => {
    for (let length = 0; length < good.length; length++) {
      expect(codesOf(good.slice(0, length)), `${length} bytes`).toEqual(['fingering.midi-damaged']);
    }
  });

  test('any byte changed: an answer or an issue, never an exception, and a copy where there is an answer', () => {
    for (let at = 0; at < good.length; at++) {
      for (const byte of [0, 0x7f, 0x80, 0xff]) {
        const file = good.slice();
        file[at] = byte;
        const hand = readMidiHand(file, { side: 'right' });
        if (hand.ok)
          writeMidiFingers(
            hand.value,
            hand.value.notes.map(() => 1),
          );
      }
    }
  });

  test.each([
    ['of format 2', { format: 2 as const }, 'of format 2'],
    [
      'in film frames',
      { framesPerSecond: 25, ticksPerFrame: 40, ticksPerBeat: undefined as unknown as number },
      'film frames',
    ],
  ])('%s', (_name, header, words) => {
    const [issue] = issuesOf(fileOf([[...quarters(60), end]], header));
    expect(issue?.code).toBe('fingering.midi-kind');
    expect(issue?.args['what']).toContain(words);
  });

  test('no notes, too many bytes', () => {
    expect(codesOf(fileOf([[end]]))).toEqual(['fingering.which-track']);
    expect(codesOf(new Uint8Array(9 * 1024 * 1024))).toEqual(['fingering.midi-kind']);
  });
});
