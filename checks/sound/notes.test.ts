/**
 * Source: the synthesizer itself, spessasynth_core, used plainly (note on, note off at the exact frame): our rendered notes with our
 * release must be its notes. And of the issue 'Sound': 88 keys sound, velocity 1 sounds, the web bank has at most 6 MB. Tolerances
 * are ours, stated beside each.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { BANK_FILES, INSTRUMENTS, instrumentOf, openBank, type Bank, type InstrumentId } from '@fivespan/sound/bank';
import {
  MASTER_GAIN,
  NoteStore,
  renderSchedule,
  soundingVelocity,
  Synthesizer,
  TONE_STEP,
} from '@fivespan/sound/engine';
import { beforeAll, describe, expect, test } from 'vitest';
import { bankFiles, testBank } from '../sound-bank.ts';
import { trioSchedule } from '../trio-schedule.ts';

const RATE = 44_100;
const MELODIC = INSTRUMENTS.filter(({ isKit }) => !isKit).map(({ id }) => id);
const ALL_KEYS = Array.from({ length: 88 }, (_, index) => 21 + index);
/** Set drums: General MIDI percussion, 35 to 59, and the sticks of a count-in (31, General Standard; common practice). */
const DRUMS = [31, ...Array.from({ length: 25 }, (_, index) => 35 + index)];

let web: Bank;
let store: NoteStore;
let plain: Synthesizer;

beforeAll(async () => {
  web = await testBank('web');
  store = new NoteStore(web, RATE);
  plain = new Synthesizer(web, RATE);
});

/** Loudest sample of a note as it would be mixed, master gain included. */
function peakOf(notes: NoteStore, instrument: InstrumentId, key: number, velocity: number): number {
  const stored = notes.note(instrument, key, velocity, RATE / 8);
  return stored === undefined ? 0 : (stored.rendered.peaksAhead[0] ?? 0) * stored.gain * MASTER_GAIN;
}

describe('the banks', () => {
  test('the web bank has at most 6 MB, and both carry the notice of the font', async () => {
    const files = await bankFiles();
    expect(readFileSync(files.web).length).toBeLessThanOrEqual(6_000_000);
    for (const file of [files.web, files.full]) {
      const text = readFileSync(file).toString('latin1');
      expect(text).toContain('Permission is hereby granted, free of charge');
      expect(text).toContain('Frank Wen');
      expect(text).toContain('S. Christian Collins');
    }
    expect(files.web.endsWith(BANK_FILES.web)).toBe(true);
  });

  test('what is no bank is said to be none', async () => {
    const opened = await openBank(new Uint8Array(100), 'web');
    expect(opened).toMatchObject({ ok: false, issues: [{ code: 'sound.bank-unreadable' }] });
  });

  test.each(MELODIC)('%s: 88 keys sound, at velocity 1 too, at 64 well above silence', (instrument) => {
    const silent = ALL_KEYS.filter((key) => peakOf(store, instrument, key, 1) < 2 ** -15);
    expect(silent).toEqual([]);
    const soft = ALL_KEYS.filter((key) => peakOf(store, instrument, key, 64) < 0.001);
    expect(soft).toEqual([]);
  });

  test.each(INSTRUMENTS.filter(({ isKit }) => isKit).map(({ id }) => id))('%s: every drum of the set sounds', (kit) => {
    expect(DRUMS.filter((drum) => peakOf(store, kit, drum, 1) < 2 ** -15)).toEqual([]);
  });

  test('the full bank: the grand sounds from pianissimo to fortissimo', async () => {
    const full = new NoteStore(await testBank('full'), RATE);
    const silent = ALL_KEYS.flatMap((key) =>
      [1, 60, 127].filter((velocity) => full.lookUp('grand', key, velocity) === undefined),
    );
    expect(silent).toEqual([]);
    // rendering all of it means decoding all of it: every eleventh key, both ends among them
    const keys = ALL_KEYS.filter((key) => (key - 21) % 11 === 0 || key === 108);
    expect(
      keys.flatMap((key) => [1, 127].filter((velocity) => peakOf(full, 'grand', key, velocity) < 2 ** -15)),
    ).toEqual([]);
  });
});

describe('a rendered note', () => {
  test('is the same whatever was rendered before it', () => {
    const hash = (notes: NoteStore): string => {
      const { rendered } = notes.note('grand', 61, 100, RATE) ?? { rendered: undefined };
      if (rendered === undefined) throw new Error('no note');
      return createHash('sha256')
        .update(rendered.left.subarray(0, RATE))
        .update(rendered.right.subarray(0, RATE))
        .digest('hex');
    };
    const fresh = new NoteStore(web, RATE);
    const used = new NoteStore(web, RATE);
    used.note('acoustic bass', 30, 100, RATE);
    used.note('jazz kit', 46, 90, RATE);
    used.note('grand', 61, 20, RATE / 2);
    for (let key = 30; key < 40; key++) used.note('vibraphone', key, 90, 8 * RATE);
    expect(hash(used)).toBe(hash(fresh));
  });

  test('is the same though a store of another sample rate was made in between', () => {
    const before = new NoteStore(web, RATE);
    const other = new NoteStore(web, 48_000);
    other.note('grand', 50, 70, 4800);
    const late = before.note('grand', 50, 70, RATE / 4)?.rendered.left.slice(0, 4000);
    const alone = new NoteStore(web, RATE).note('grand', 50, 70, RATE / 4)?.rendered.left.slice(0, 4000);
    expect(late).toEqual(alone);
  });

  test('longer and shorter renderings agree', () => {
    const short = new NoteStore(web, RATE).note('vibraphone', 70, 70, RATE / 10)?.rendered.left;
    const long = new NoteStore(web, RATE).note('vibraphone', 70, 70, RATE)?.rendered.left;
    expect(short).toEqual(long?.slice(0, short?.length));
  });
});

describe('the quick way of rendering a held note', () => {
  const BLOCK = 128;
  const BLOCKS = 500;

  /** The note both ways for 1.5 s, past the first loop of the bass, at the bank's own velocities: the worse side's difference, in dB of that side. */
  function apartDb(synthesizer: Synthesizer, instrument: InstrumentId, key: number, velocity: number): number {
    const render = (next: (left: Float32Array, right: Float32Array, at: number) => void): Float32Array[] => {
      const sides = [new Float32Array(BLOCK * BLOCKS), new Float32Array(BLOCK * BLOCKS)] as const;
      synthesizer.claimFilters();
      synthesizer.restart();
      synthesizer.noteOn(instrumentOf(instrument), key, velocity);
      for (let block = 0; block < BLOCKS; block++) next(...sides, block * BLOCK);
      return [...sides];
    };
    let isEven = false;
    const quick = render((left, right, at) => {
      if (at === 0) isEven = synthesizer.processFirst(left, right);
      else synthesizer.processHeld(left, right, at);
    });
    const own = render((left, right, at) => synthesizer.process(left, right, at, BLOCK));
    const sides = [0, 1].map((side) => {
      const mine = quick[isEven ? 0 : side] as Float32Array;
      const theirs = own[side] as Float32Array;
      const error = mine.reduce((sum, each, index) => sum + (each - (theirs[index] as number)) ** 2, 0);
      return 10 * Math.log10(error / theirs.reduce((sum, each) => sum + each ** 2, 0));
    });
    return Math.max(...sides);
  }

  test.each(INSTRUMENTS)("$id: is the synthesizer's output but for rounding, under −120 dB", async ({ id, isKit }) => {
    for (const name of ['web', 'full'] as const) {
      const synthesizer = new Synthesizer(await testBank(name), RATE);
      for (const key of isKit ? [31, 36, 42, 49, 51] : [21, 40, 71, 108]) {
        for (const velocity of [10, 70, 127]) {
          expect.soft(apartDb(synthesizer, id, key, velocity), `${name} ${key} ${velocity}`).toBeLessThan(-120);
        }
      }
    }
  });

  test("serves every instrument but the vibraphone, whose motor is the synthesizer's", async () => {
    const synthesizer = new Synthesizer(await testBank('full'), RATE);
    const sides = [new Float32Array(BLOCK), new Float32Array(BLOCK)] as const;
    for (const instrument of INSTRUMENTS) {
      synthesizer.restart();
      synthesizer.noteOn(instrument, instrument.isKit ? 51 : 60, 90);
      synthesizer.processFirst(...sides);
      expect.soft(synthesizer.isQuick, instrument.id).toBe(instrument.id !== 'vibraphone');
    }
  });
});

describe('how long a note is rendered', () => {
  test('does not alter what is heard: from notes kept to their end the same samples', () => {
    const whole = trioSchedule(1, 3);
    const schedule = { ...whole, events: whole.events.filter(({ startSeconds }) => startSeconds < 15), endSeconds: 15 };
    const fresh = new NoteStore(web, RATE);
    const long = new NoteStore(web, RATE, 2e9);
    for (const { player, midi, velocity } of schedule.events) {
      const instrument = schedule.players[player]?.instrument ?? 'grand';
      long.note(instrument, midi, velocity, 6 * RATE);
    }
    const mine = renderSchedule(fresh, schedule);
    const theirs = renderSchedule(long, schedule);
    expect(fresh.counters.renderedSeconds).toBeLessThan(long.counters.renderedSeconds / 2);
    expect(mine?.left.length).toBe(theirs?.left.length);
    expect(mine?.left.findIndex((each, index) => each !== theirs?.left[index])).toBe(-1);
    expect(mine?.right.findIndex((each, index) => each !== theirs?.right[index])).toBe(-1);
  });
});

describe('drums that velocity makes only louder', () => {
  test('ride, hi-hat and crash are one rendered note each, whatever the velocity', () => {
    for (const drum of [51, 44, 49]) {
      const names = new Set(Array.from({ length: 127 }, (_, index) => store.lookUp('jazz kit', drum, index + 1)?.name));
      expect(names.size).toBe(1);
    }
  });

  test.each([51, 44, 49])("drum %d: is the synthesizer's at every tenth velocity, under −120 dB", (drum) => {
    for (let velocity = 7; velocity <= 127; velocity += 10) {
      expect.soft(differenceDb('jazz kit', drum, velocity, 0.3).held, `velocity ${velocity}`).toBeLessThan(-120);
    }
  });
});

/** Our note and the plain synthesizer's: root mean square of the difference over the plain one's, in dB, held and released. */
function differenceDb(
  instrument: InstrumentId,
  key: number,
  velocity: number,
  seconds: number,
): { held: number; released: number } {
  const left = Math.round(seconds * RATE);
  const ours = renderSchedule(
    store,
    {
      players: [{ name: 'one', instrument, pan: 0, level: 1 }],
      events: [{ startSeconds: 0, durationSeconds: seconds, midi: key, velocity, player: 0 }],
      endSeconds: seconds,
    },
    { tailSeconds: 2 },
  );
  if (ours === undefined) throw new Error('cancelled');
  // the release is compared while it can be heard well: 50 ms
  const end = left + Math.round(0.05 * RATE);
  const plainLeft = new Float32Array(end + 128);
  const plainRight = new Float32Array(end + 128);
  plain.claimFilters();
  plain.restart();
  plain.noteOn(instrumentOf(instrument), key, soundingVelocity(velocity));
  for (let at = 0; at < end;) {
    if (at === left) plain.noteOff(instrumentOf(instrument), key);
    const frames = Math.min(128, at < left ? left - at : end - at);
    plain.process(plainLeft, plainRight, at, frames);
    at += frames;
  }
  const db = (from: number, to: number): number => {
    let error = 0;
    let energy = 0;
    for (let index = from; index < to; index++) {
      const wanted = (plainLeft[index] ?? 0) * MASTER_GAIN;
      error += ((ours.left[index] ?? 0) - wanted) ** 2;
      energy += wanted ** 2;
    }
    return 10 * Math.log10(error / energy);
  };
  return { held: db(0, left), released: db(left, end) };
}

describe('against the synthesizer used plainly', () => {
  // Loudness follows each velocity, tone colour in steps of TONE_STEP: so far may the wave be from the note's own.
  test.each<[InstrumentId, readonly number[], number]>([
    ['grand', [33, 52, 64, 79], -23],
    ['tine electric piano', [40, 64, 79], -37],
    ['vibraphone', [53, 64, 79], -55],
    ['acoustic bass', [28, 36, 45, 52], -45],
  ])('%s: held notes differ by less than the stated tolerance', (instrument, keys, tolerance) => {
    for (const key of keys) {
      for (let velocity = 50; velocity < 50 + TONE_STEP; velocity++) {
        const { held } = differenceDb(instrument, key, velocity, 0.3);
        expect.soft(held, `key ${key}, velocity ${velocity}`).toBeLessThan(tolerance);
      }
    }
  });

  test("a note of a step's own velocity is the synthesizer's bit for bit, times the master gain", () => {
    const exact = [40, 52, 64, 76].flatMap((key) =>
      Array.from({ length: TONE_STEP }, (_, index) => differenceDb('grand', key, 56 + index, 0.2).held),
    );
    expect(exact.filter((db) => db < -140).length).toBeGreaterThanOrEqual(4);
  });

  // The release is ours: straight in dB each frame, where the synthesizer steps once a block and closes its filter a little.
  test.each<[InstrumentId, number]>([
    ['grand', -16],
    ['tine electric piano', -28],
    ['vibraphone', -15],
    ['acoustic bass', -33],
  ])('%s: the release differs by less than %d dB', (instrument, tolerance) => {
    for (const key of instrument === 'acoustic bass' ? [28, 40, 50] : [36, 48, 60, 72]) {
      for (const seconds of [0.12, 0.5]) {
        expect
          .soft(differenceDb(instrument, key, 70, seconds).released, `key ${key}, ${seconds} s`)
          .toBeLessThan(tolerance);
      }
    }
  });
});
