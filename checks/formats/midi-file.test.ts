/**
 * Sources: Standard MIDI Files 1.1 (chunk layout, variable-length quantities; values as in docs/sources.md,
 * 8, marked R; FF 2F 00 and FF 51 03 marked M, from memory); midi-file 1.2.4 as an independent reader;
 * Debian's fluidsynth as a player.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { midiOf, type Performance, type PlayedNote, type Score } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { writeMidi } from '../../packages/formats/src/midi/index.ts';
import { barAt, inventedScore, keyOf } from '../../packages/formats/src/musicxml/invented-score.ts';

/** An event as midi-file reads it; only what is looked at here. */
interface MidiEvent {
  readonly type: string;
  readonly deltaTime: number;
  readonly [field: string]: unknown;
}
const { parseMidi } = createRequire(join(import.meta.dirname, '../..', 'packages', 'formats', 'package.json'))(
  'midi-file',
) as { parseMidi: (bytes: Uint8Array) => { readonly tracks: readonly (readonly MidiEvent[])[] } };

const FLUIDSYNTH = 'fluidsynth';

const TICKS_A_SECOND = (132 / 60) * 960;

/** Plays the score with off-beat eighths two thirds into the beat: 2:1 swing by hand. */
function swung(score: Score): Performance {
  const start = score.bars[0]?.startTicks ?? 0;
  const later = (ticks: number): number => (ticks % 960 === 480 || ticks % 960 === -480 ? ticks + 160 : ticks);
  const parts = score.staves.map((staff) => ({
    player: staff.role,
    notes: staff.notes.map((note): PlayedNote => {
      const from = later(note.startTicks);
      const to = later(note.startTicks + note.durationTicks);
      return {
        startSeconds: (from - start) / TICKS_A_SECOND,
        durationSeconds: (to - from) / TICKS_A_SECOND,
        midi: midiOf(note.pitch),
        velocity: 80,
        writtenStartTicks: note.startTicks,
      };
    }),
  }));
  return { parts, endSeconds: (score.endTicks - start) / TICKS_A_SECOND };
}

const score = inventedScore();
const bytes = writeMidi(score, swung(score));
const file = parseMidi(bytes);
const nameOf = (track: readonly MidiEvent[]): string =>
  track.flatMap((event) => (event.type === 'trackName' ? [String(event['text'])] : [])).join();
const lengthOf = (track: readonly MidiEvent[]): number => track.reduce((sum, event) => sum + event.deltaTime, 0);

/** Chunks by the standard's own layout, read here and not by the library. */
function chunks(all: Uint8Array): { type: string; body: Uint8Array }[] {
  const found = [];
  for (let at = 0; at < all.length;) {
    const view = new DataView(all.buffer, all.byteOffset + at, 8);
    const length = view.getUint32(4);
    found.push({ type: String.fromCharCode(...all.slice(at, at + 4)), body: all.slice(at + 8, at + 8 + length) });
    at += 8 + length;
  }
  return found;
}

describe('the file, by the standard', () => {
  test('header: length 6, format 1, three tracks, 960 ticks to the quarter (R)', () => {
    const [header, ...tracks] = chunks(bytes);
    expect(header?.type).toBe('MThd');
    expect([...(header?.body ?? [])]).toEqual([0, 1, 0, 3, 960 >> 8, 960 & 255]);
    expect(tracks.map((each) => each.type)).toEqual(['MTrk', 'MTrk', 'MTrk']);
  });

  test('every track ends with FF 2F 00 (M)', () => {
    for (const { body } of chunks(bytes).slice(1)) expect(body.slice(-3)).toEqual(Uint8Array.of(0xff, 0x2f, 0x00));
  });

  test('tempo 132 is 454545 microseconds: FF 51 03 06 EF 91 (M, arithmetic)', () => {
    expect(Buffer.from(bytes).toString('hex')).toContain('ff510306ef91');
  });

  // R: 80→81 00, C8→81 48, 2000→C0 00, 0FFFFFFF→FF FF FF 7F
  test.each([
    [0x80, '8100'],
    [0xc8, '8148'],
    [0x2000, 'c000'],
    [0xfffffff, 'ffffff7f'],
  ])('a silent file of %i ticks ends with its length as a variable-length quantity (R)', (ticks, hex) => {
    const key = keyOf('C major');
    const silent: Score = { ...score, bars: [barAt(1, 0, key)], staves: [], chords: [], thumbs: [], endTicks: ticks };
    const [, , right] = chunks(writeMidi(silent, { parts: [], endSeconds: 1 }));
    expect(Buffer.from(right?.body.slice(-7) ?? []).toString('hex')).toMatch(new RegExp(`${hex}ff2f00$`, 'u'));
  });
});

describe('what a reader finds', () => {
  test('all tracks last exactly as long as the chart: a pickup quarter and five bars', () => {
    expect(file.tracks.map(lengthOf)).toEqual([960 + 5 * 3840, 960 + 5 * 3840, 960 + 5 * 3840]);
  });

  test('names are UTF-8 and the arpeggio study is not there', () => {
    const utf8 = (text: string): string => Buffer.from(text, 'latin1').toString('utf8');
    expect(file.tracks.map((track) => utf8(nameOf(track)))).toEqual([score.title, 'Right hand', 'Left hand']);
  });

  test('the pickup is a bar of its own; metre, key and sections stand where they begin', () => {
    let at = 0;
    const found: unknown[] = [];
    for (const event of file.tracks[0] ?? []) {
      at += event.deltaTime;
      if (event.type === 'timeSignature') found.push([at, event['numerator'], event['denominator']]);
      if (event.type === 'keySignature') found.push([at, 'key', event['key'], event['scale']]);
      if (event.type === 'marker') found.push([at, event['text']]);
    }
    expect(found).toEqual([
      [0, 1, 4],
      [0, 'key', -3, 0],
      [960, 4, 4],
      [960, 'A'],
      [960 + 4 * 3840, 'B'],
    ]);
  });

  test('every note is on once and off once, off-beats swing, beats do not', () => {
    for (const [index, role] of (['right hand', 'left hand'] as const).entries()) {
      let at = 0;
      const ons: string[] = [];
      const sounding = new Set<number>();
      for (const event of file.tracks[index + 1] ?? []) {
        at += event.deltaTime;
        const note = Number(event['noteNumber']);
        if (event.type === 'noteOn') {
          expect(sounding.has(note)).toBe(false);
          sounding.add(note);
          ons.push(`${at} ${note}`);
        }
        if (event.type === 'noteOff') expect(sounding.delete(note)).toBe(true);
      }
      expect(sounding.size).toBe(0);
      const written = (score.staves.find((staff) => staff.role === role)?.notes ?? []).map((note) => {
        const ticks = note.startTicks + 960;
        return `${ticks % 960 === 480 ? ticks + 160 : ticks} ${midiOf(note.pitch)}`;
      });
      expect(ons.sort()).toEqual(written.sort());
    }
  });

  test.each([
    ['6/8', { count: 6, unit: 8 }, 6, 8, 36],
    ['7/4', { count: 7, unit: 4 }, 7, 4, 24],
    ['5/16', { count: 5, unit: 16 }, 5, 16, 6],
    ['2/2', { count: 2, unit: 2 }, 2, 2, 48],
  ])('a metre of %s is read back', (_name, meter, numerator, denominator, metronome) => {
    const bar = barAt(1, 0, keyOf('F# minor'), { meter });
    const other: Score = { ...score, meter, bars: [bar], staves: [], endTicks: 3840 };
    const [conductor] = parseMidi(writeMidi(other, { parts: [], endSeconds: 1 })).tracks;
    expect(conductor?.find((event) => event.type === 'timeSignature')).toMatchObject({
      numerator,
      denominator,
      metronome,
    });
    expect(conductor?.find((event) => event.type === 'keySignature')).toMatchObject({ key: 3, scale: 1 });
  });

  test('twice the same bytes', () => {
    expect(writeMidi(inventedScore(), swung(inventedScore()))).toEqual(bytes);
  });
});

describe('what the format cannot hold is refused by name', () => {
  const note: PlayedNote = {
    startSeconds: 0,
    durationSeconds: 1,
    midi: midiOf({ name: 0 as never, octave: 4 }),
    velocity: 80,
    writtenStartTicks: 0,
  };
  const write = (more: Partial<PlayedNote>): Uint8Array =>
    writeMidi(score, { parts: [{ player: 'right hand', notes: [{ ...note, ...more }] }], endSeconds: 1 });
  test.each([
    ['velocity', { velocity: 0 }],
    ['velocity', { velocity: 128 }],
    ['velocity', { velocity: Number.NaN }],
    ['midi', { midi: 128 as never }],
    ['startSeconds', { startSeconds: -0.1 }],
    ['startSeconds', { startSeconds: Number.NaN }],
    ['startSeconds', { startSeconds: 1e6 }],
    ['durationSeconds', { durationSeconds: 0 }],
  ])('%s', (name, more) => expect(() => write(more)).toThrow(name));
  test('a sound note is written', () => expect(write({}).length).toBeGreaterThan(40));
});

const fluidsynth = spawnSync(FLUIDSYNTH, ['--version']).status === 0;
test.skipIf(!fluidsynth)('fluidsynth takes the file without a complaint and plays it to the end', () => {
  const folder = mkdtempSync(join(tmpdir(), 'fivespan-midi-'));
  const path = join(folder, 'lesson.mid');
  const sound = join(folder, 'out.raw');
  writeFileSync(path, bytes);
  // without a sound bank it plays silence, 16-bit stereo at 44,100 Hz: what counts is that it takes the file, and how long
  const run = spawnSync(FLUIDSYNTH, ['-ni', '-q', '-T', 'raw', '-F', sound, path], {
    encoding: 'utf8',
    timeout: 30_000,
  });
  const seconds = statSync(sound).size / (44_100 * 4);
  rmSync(folder, { recursive: true });
  expect(run.stderr).not.toMatch(/error|unrecognized|unexpected/iu);
  // 21 quarters at 132; the player lets the last sound ring for some seconds of its own
  expect(seconds).toBeGreaterThanOrEqual((21 * 60) / 132);
  expect(seconds).toBeLessThan((21 * 60) / 132 + 5);
});
