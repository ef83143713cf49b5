/**
 * Source: issue 'Sound', Engine and Checks: rendered waves are looked at, not promises. The onset rule is common practice: the first
 * frame whose level rises above a threshold after silence; its tolerance is stated at each use.
 */
import { createHash } from 'node:crypto';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { decodeAll, instrumentOf, type Bank, type InstrumentId } from '@fivespan/sound/bank';
import {
  atRate,
  BLOCK_FRAMES,
  NoteStore,
  planOf,
  prepare,
  renderPart,
  renderSchedule,
  SoundEngine,
  soundingVelocity,
  Synthesizer,
  transposed,
  type PlayedEvent,
  type Prepared,
  type Schedule,
} from '@fivespan/sound/engine';
import { beforeAll, describe, expect, test } from 'vitest';
import { testBank } from '../sound-bank.ts';
import { trioSchedule } from '../trio-schedule.ts';

const RATE = 44_100;
let bank: Bank;
let store: NoteStore;

beforeAll(async () => {
  bank = await testBank();
  store = new NoteStore(bank, RATE);
});

const hash = (...arrays: readonly Float32Array[]): string => {
  const sum = createHash('sha256');
  for (const each of arrays) sum.update(new Uint8Array(each.buffer, each.byteOffset, each.byteLength));
  return sum.digest('hex');
};

const single = (
  instrument: InstrumentId,
  events: readonly Omit<PlayedEvent, 'player'>[],
  endSeconds: number,
): Schedule => ({
  players: [{ name: 'one', instrument, pan: 0, level: 1 }],
  events: events.map((event) => ({ ...event, player: 0 })),
  endSeconds,
});

/** A few bars of the trio. */
function excerpt(seconds: number): Schedule {
  const { players, events } = trioSchedule(1, 3);
  return { players, events: events.filter((event) => event.startSeconds < seconds), endSeconds: seconds };
}

function render(schedule: Schedule, options = {}): { left: Float32Array; right: Float32Array } {
  const sound = renderSchedule(store, schedule, options);
  if (sound === undefined) throw new Error('cancelled');
  return sound;
}

function preparedOf(schedule: Schedule, slowestRate = 1): Prepared {
  const prepared = prepare(store, planOf(store, schedule, slowestRate));
  if (prepared === undefined) throw new Error('cancelled');
  return prepared;
}

const peak = (samples: Float32Array, from = 0, to = samples.length): number => {
  let most = 0;
  for (let index = from; index < to; index++) most = Math.max(most, Math.abs(samples[index] ?? 0));
  return most;
};

/** Frames at which sound begins after at least 20 ms of exact silence. */
function onsetsAfterSilence(samples: Float32Array): number[] {
  const onsets: number[] = [];
  let silent = RATE;
  for (const [index, sample] of samples.entries()) {
    if (sample === 0) silent++;
    else {
      if (silent > RATE * 0.02) onsets.push(index);
      silent = 0;
    }
  }
  return onsets;
}

describe('time', () => {
  /** Where a note begins to sound when the synthesizer itself plays it: its recording has a little silence before the stroke. */
  const ownDelay = (instrument: InstrumentId, midi: number): number => {
    const plain = new Synthesizer(bank, RATE);
    const left = new Float32Array(BLOCK_FRAMES * 16);
    plain.noteOn(instrumentOf(instrument), midi, soundingVelocity(90));
    for (let at = 0; at < left.length; at += BLOCK_FRAMES) plain.process(left, left.slice(), at, BLOCK_FRAMES);
    return onsetsAfterSilence(left)[0] ?? NaN;
  };

  test.each<[InstrumentId, number]>([
    ['grand', 60],
    ['acoustic bass', 40],
    ['tine electric piano', 64],
    ['jazz kit', 37],
  ])('%s: every onset lies on its frame, tolerance 0 frames', (instrument, midi) => {
    // odd times, so that nothing falls on a block's edge by luck
    const starts = [0, 1.3331, 2.7193, 4.00007, 5.5123];
    const schedule = single(
      instrument,
      starts.map((startSeconds) => ({ startSeconds, durationSeconds: 0.05, midi, velocity: 90 })),
      7,
    );
    const delay = ownDelay(instrument, midi);
    expect(delay).toBeLessThan(RATE * 0.02);
    const expected = starts.map((start) => Math.round(start * RATE) + delay);
    expect(onsetsAfterSilence(render(schedule).left)).toEqual(expected);
  });

  test('silence before the first note and between notes is exactly 0', () => {
    const { left, right } = render(
      single('acoustic bass', [{ startSeconds: 1, durationSeconds: 0.1, midi: 36, velocity: 100 }], 4),
    );
    expect(peak(left, 0, RATE)).toBe(0);
    expect(peak(left, RATE, RATE + 4410)).toBeGreaterThan(0.05);
    expect(peak(left, 3 * RATE)).toBe(0);
    expect(peak(right, 3 * RATE)).toBe(0);
  });

  test('a schedule at half the tempo has its onsets at twice the times', () => {
    const schedule = single(
      'jazz kit',
      [0, 1, 1.75].map((startSeconds) => ({ startSeconds, durationSeconds: 0.1, midi: 37, velocity: 90 })),
      2,
    );
    const delay = ownDelay('jazz kit', 37);
    expect(onsetsAfterSilence(render(atRate(schedule, 0.5)).left)).toEqual(
      [0, 2, 3.5].map((seconds) => seconds * RATE + delay),
    );
  });
});

describe('the same samples', () => {
  test('however the output is cut into blocks', () => {
    const schedule = excerpt(4);
    const prepared = preparedOf(schedule);
    const frames = BLOCK_FRAMES * 1200;
    const run = (sizes: readonly number[]): string => {
      const engine = new SoundEngine(RATE);
      engine.load(prepared);
      engine.play();
      const left = new Float32Array(frames);
      const right = new Float32Array(frames);
      for (let at = 0, turn = 0; at < frames; turn++) {
        const size = Math.min(sizes[turn % sizes.length] as number, frames - at);
        engine.process(left.subarray(at, at + size), right.subarray(at, at + size));
        at += size;
      }
      return hash(left, right);
    };
    const whole = run([frames]);
    expect(run([128])).toBe(whole);
    expect(run([1, 77, 1000, 4096])).toBe(whole);
  });

  test('in windows of a long piece as at once, and in parts side by side', () => {
    // longer than the window in which notes are laid out (10 s)
    const schedule = excerpt(13);
    const { left, right } = render(schedule);
    const frames = Math.round(13 * RATE);
    const cuts = [0, Math.round(7.301 * RATE), frames];
    const parts = cuts
      .slice(1)
      .map((to, index) => renderPart(new NoteStore(bank, RATE), schedule, cuts[index] as number, to));
    for (const [index, part] of parts.entries()) {
      const from = cuts[index] as number;
      const to = cuts[index + 1] as number;
      expect(hash(part?.left ?? left), `part ${index}`).toBe(hash(left.slice(from, to)));
      expect(hash(part?.right ?? right), `part ${index}`).toBe(hash(right.slice(from, to)));
    }
  });

  test('in a part far on, without what has long died away', () => {
    const schedule = excerpt(45);
    const store = new NoteStore(bank, RATE);
    const { left } = render(schedule);
    // a crash and a lone note at the start: over before the part begins, 20 s after the longest note may
    const events = [
      ...schedule.events,
      { startSeconds: 0.5, durationSeconds: 0.2, midi: 96, velocity: 90, player: 3 },
      { startSeconds: 0.5, durationSeconds: 0.2, midi: 49, velocity: 90, player: 2 },
    ];
    const from = 40 * RATE;
    const part = renderPart(store, { ...schedule, events }, from, 45 * RATE);
    expect(hash(part?.left ?? left)).toBe(hash(left.slice(from, 45 * RATE)));
    const whole = new NoteStore(bank, RATE);
    renderPart(whole, { ...schedule, events }, 0, 45 * RATE);
    expect(store.counters.renderedNotes).toBeLessThanOrEqual(whole.counters.renderedNotes - 2);
  });

  test('after a copy into another thread', () => {
    const prepared = preparedOf(excerpt(3));
    const play = (piece: Prepared): string => {
      const engine = new SoundEngine(RATE);
      engine.load(piece);
      engine.play();
      const left = new Float32Array(3 * RATE);
      const right = new Float32Array(3 * RATE);
      engine.process(left, right);
      return hash(left, right);
    };
    // what a message to a worker or to the audio thread does
    expect(play(structuredClone(prepared))).toBe(play(prepared));
  });

  test('with notes kept from before as with an empty store', () => {
    const schedule = excerpt(5);
    const first = render(schedule);
    const again = renderSchedule(new NoteStore(bank, RATE), schedule);
    expect(hash(again?.left ?? first.right, again?.right ?? first.left)).toBe(hash(first.left, first.right));
  });

  test('with so small a store that notes are forgotten and rendered again', () => {
    const schedule = excerpt(5);
    const first = render(schedule);
    const tiny = new NoteStore(bank, RATE, 1_000_000);
    const sound = renderSchedule(tiny, schedule);
    expect(tiny.counters.keptBytes).toBeLessThan(3_000_000);
    expect(hash(sound?.left ?? first.right)).toBe(hash(first.left));
  });
});

describe('transposition', () => {
  test('a transposed render is the render of the transposed schedule, drums unchanged', () => {
    const schedule = excerpt(4);
    const byHand: Schedule = {
      ...schedule,
      events: schedule.events.map((event) => (event.player === 2 ? event : { ...event, midi: event.midi + 3 })),
    };
    const moved = render(transposed(schedule, 3));
    expect(hash(moved.left, moved.right)).toBe(hash(render(byHand).left, render(byHand).right));
    expect(hash(moved.left)).not.toBe(hash(render(schedule).left));
  });

  test('a note that would leave the 88 keys comes back by octaves', () => {
    const schedule = single('grand', [{ startSeconds: 0, durationSeconds: 1, midi: 107, velocity: 80 }], 1);
    expect(transposed(schedule, 5).events[0]?.midi).toBe(100);
  });
});

describe('who is heard', () => {
  test('muted players are silent from the first frame; what is left and they make the whole', () => {
    const schedule = excerpt(4);
    const all = render(schedule);
    const bassOnly = render(schedule, { muted: [0, 2, 3] });
    const others = render(schedule, { muted: [1] });
    const bassEvents = { ...schedule, events: schedule.events.filter(({ player }) => player === 1) };
    const bass = render(bassEvents);
    // the whole's tail is longer: unheard players still ring out
    expect(hash(bassOnly.left.slice(0, 4 * RATE))).toBe(hash(bass.left.slice(0, 4 * RATE)));
    let most = 0;
    const frames = Math.min(all.left.length, bassOnly.left.length, others.left.length);
    for (let index = 0; index < frames; index++) {
      most = Math.max(most, Math.abs((all.left[index] ?? 0) - (bassOnly.left[index] ?? 0) - (others.left[index] ?? 0)));
    }
    // rounding of single precision at levels up to 1
    expect(most).toBeLessThan(1e-6);
  });

  test('solo, level and mute move within 10 ms and without a step', () => {
    const schedule = single(
      'tine electric piano',
      [{ startSeconds: 0, durationSeconds: 3, midi: 45, velocity: 100 }],
      3,
    );
    const engine = new SoundEngine(RATE);
    engine.load(preparedOf(schedule));
    engine.play();
    const left = new Float32Array(RATE);
    const right = new Float32Array(RATE);
    engine.process(left, right, RATE / 2);
    const steadyStep = steepest(left, RATE / 4, RATE / 2);
    engine.setMuted(0, true);
    engine.process(left, right);
    expect(steepest(left, 0, RATE)).toBeLessThan(steadyStep * 1.5);
    expect(peak(left, 0, 200)).toBeGreaterThan(0.01);
    expect(peak(left, Math.round(RATE * 0.01) + 1)).toBe(0);
    engine.setMuted(0, false);
    engine.setSolo(5, true);
    engine.process(left, right);
    expect(peak(left, 1000)).toBe(0);
  });

  test('level is what it says', () => {
    const event = [{ startSeconds: 0, durationSeconds: 0.5, midi: 48, velocity: 80 }];
    const full = render(single('grand', event, 1));
    const half = render({
      ...single('grand', event, 1),
      players: [{ name: 'one', instrument: 'grand', pan: 0, level: 0.5 }],
    });
    expect(peak(half.left) / peak(full.left)).toBeCloseTo(0.5, 5);
    const leftOnly = render({
      ...single('grand', event, 1),
      players: [{ name: 'one', instrument: 'grand', pan: -1, level: 1 }],
    });
    expect(peak(leftOnly.right)).toBeLessThan(1e-6);
    expect(peak(leftOnly.left)).toBeGreaterThan(peak(full.left));
  });

  test('safe in mono: the sides together lose less than 2 dB of any player, less than 1 of the trio', () => {
    const schedule = excerpt(6);
    for (const players of [[0], [1], [2], [3], [0, 1, 2, 3]]) {
      const events = schedule.events.filter(({ player }) => players.includes(player));
      const { left, right } = render({ ...schedule, events });
      let sides = 0;
      let together = 0;
      for (const [index, sample] of left.entries()) {
        const other = right[index] ?? 0;
        sides += (sample ** 2 + other ** 2) / 2;
        together += ((sample + other) / 2) ** 2;
      }
      const lostDb = -10 * Math.log10(together / sides);
      expect.soft(lostDb, `players ${players.join(' ')}`).toBeLessThan(players.length === 1 ? 2 : 1);
    }
  });

  test('a player off the middle: equal power between the sides, however the output is cut', () => {
    const { events } = single(
      'acoustic bass',
      [{ startSeconds: 0.1, durationSeconds: 0.5, midi: 40, velocity: 90 }],
      1,
    );
    const drums = Array.from({ length: 9 }, (_, index): PlayedEvent => {
      return { startSeconds: index / 10, durationSeconds: 0.1, midi: 51, velocity: 60 + index, player: 1 };
    });
    const schedule: Schedule = {
      players: [
        { name: 'bass', instrument: 'acoustic bass', pan: -0.4, level: 1 },
        { name: 'drums', instrument: 'jazz kit', pan: 0.6, level: 1 },
      ],
      events: [...events, ...drums],
      endSeconds: 1,
    };
    for (const [player, pan] of [-0.4, 0.6].entries()) {
      const { left, right } = render(schedule, { muted: [1 - player] });
      const angle = ((pan + 1) * Math.PI) / 4;
      const wrong = left.findIndex((each, at) => Math.abs((right[at] ?? 0) - each * Math.tan(angle)) > 1e-6);
      expect(wrong).toBe(-1);
    }
    const prepared = preparedOf(schedule);
    const played = [128, 1024, 77].map((block) => {
      const engine = new SoundEngine(RATE);
      engine.load(prepared);
      engine.play();
      const left = new Float32Array(RATE);
      const right = new Float32Array(RATE);
      for (let at = 0; at < RATE; at += block)
        engine.process(left.subarray(at, at + block), right.subarray(at, at + block));
      return hash(left, right);
    });
    expect(new Set(played).size).toBe(1);
  });

  test('louder touches are louder, step by step', () => {
    const levels = [1, 20, 40, 60, 80, 100, 127].map((velocity) => {
      const { left, right } = render(
        single('grand', [{ startSeconds: 0, durationSeconds: 0.5, midi: 60, velocity }], 0.5),
      );
      return left.reduce((sum, each, index) => sum + each * each + (right[index] ?? 0) ** 2, 0);
    });
    expect(levels).toEqual(levels.toSorted((a, b) => a - b));
    // velocity 1 lies about 44 dB under velocity 127; the grand's own curve is a little flatter
    expect(10 * Math.log10((levels[6] as number) / (levels[0] as number))).toBeGreaterThan(25);
  });
});

/** The largest change from sample to sample. */
function steepest(samples: Float32Array, from: number, to: number): number {
  let most = 0;
  for (let index = from + 1; index < to; index++) {
    most = Math.max(most, Math.abs((samples[index] ?? 0) - (samples[index - 1] ?? 0)));
  }
  return most;
}

describe('loop', () => {
  const bar = 1.7142;
  const schedule = (): Schedule =>
    single(
      'acoustic bass',
      [0, 1, 2, 3].map((beat) => ({
        startSeconds: (beat * bar) / 4,
        // the last note is held over the seam
        durationSeconds: beat === 3 ? 3 : 0.4,
        midi: 36 + beat * 2,
        velocity: 90,
      })),
      4,
    );

  test('begins again on its frame, releases what is held, clicks nowhere', () => {
    const engine = new SoundEngine(RATE);
    engine.load(preparedOf(schedule()));
    engine.setLoop({ fromSeconds: 0, toSeconds: bar });
    engine.play();
    const frames = Math.round(bar * RATE) * 4;
    const left = new Float32Array(frames);
    const right = new Float32Array(frames);
    engine.process(left, right);
    expect(engine.loopPasses).toBe(3);
    const seam = Math.round(bar * RATE);
    const usual = steepest(left, seam * 2, seam * 3 - 500);
    for (const pass of [1, 2, 3]) {
      expect(steepest(left, pass * seam - 300, pass * seam + 300)).toBeLessThan(usual * 1.2);
    }
    // once it goes round, every pass is the same
    expect(hash(left.slice(seam, seam * 2))).toBe(hash(left.slice(seam * 2, seam * 3)));
    expect(engine.positionSeconds).toBeCloseTo(bar, 4);
  });

  test('a loop as a file: exactly its frames, its end leads into its beginning', () => {
    const piece = { ...schedule(), endSeconds: bar };
    const { left } = render(piece, { isLoop: true });
    expect(left.length).toBe(Math.round(bar * RATE));
    const join = Float32Array.from([...left.slice(-300), ...left.slice(0, 300)]);
    expect(steepest(join, 0, 600)).toBeLessThan(steepest(left, 500, left.length) * 1.2);
  });
});

describe('while it plays', () => {
  test('position and audio clock agree; tempo changes move the position, not the clock', () => {
    const engine = new SoundEngine(RATE);
    engine.load(preparedOf(excerpt(6), 0.5));
    const left = new Float32Array(RATE);
    const right = new Float32Array(RATE);
    engine.process(left, right);
    expect([engine.audioFrame, engine.positionSeconds]).toEqual([RATE, 0]);
    engine.play();
    engine.process(left, right);
    expect(engine.positionSeconds).toBeCloseTo(1, 9);
    engine.setRate(0.5);
    engine.process(left, right);
    expect(engine.positionSeconds).toBeCloseTo(1.5, 9);
    expect(engine.audioFrame).toBe(3 * RATE);
    engine.pause();
    engine.process(left, right);
    expect(engine.positionSeconds).toBeCloseTo(1.5, 9);
    expect(peak(left, Math.round(RATE * 0.05))).toBe(0);
    engine.seek(4);
    expect(engine.positionSeconds).toBe(4);
  });

  test('pausing while a note is already dying away makes nothing louder', () => {
    const engine = new SoundEngine(RATE);
    engine.load(preparedOf(single('grand', [{ startSeconds: 0, durationSeconds: 0.1, midi: 48, velocity: 110 }], 1)));
    engine.play();
    const left = new Float32Array(RATE / 2);
    const right = new Float32Array(RATE / 2);
    engine.process(left, right, Math.round(RATE * 0.35));
    const before = peak(left, Math.round(RATE * 0.33), Math.round(RATE * 0.35));
    expect(before).toBeGreaterThan(0.0005);
    engine.pause();
    engine.process(left, right);
    expect(peak(left)).toBeLessThanOrEqual(before * 1.1);
    expect(peak(left, 0, 100)).toBeGreaterThan(before / 4);
    expect(peak(left, Math.round(RATE * 0.03))).toBe(0);
  });

  test('where the tail is short, what rings is faded, not cut', () => {
    const { left } = render(
      single('jazz kit', [{ startSeconds: 0, durationSeconds: 0.1, midi: 49, velocity: 110 }], 0.2),
      {
        tailSeconds: 0.8,
      },
    );
    expect(left.length).toBe(RATE);
    expect(peak(left, Math.round(RATE * 0.5), Math.round(RATE * 0.6))).toBeGreaterThan(0.02);
    expect(peak(left, RATE - 100)).toBeLessThan(1e-4);
  });

  test('a tempo change moves the notes still to come and the ends of those that sound, without a click', () => {
    const notes = single(
      'tine electric piano',
      [
        { startSeconds: 0, durationSeconds: 1, midi: 50, velocity: 90 },
        { startSeconds: 3, durationSeconds: 0.2, midi: 62, velocity: 90 },
      ],
      4,
    );
    const engine = new SoundEngine(RATE);
    engine.load(preparedOf(notes, 0.5));
    engine.play();
    const left = new Float32Array(7 * RATE);
    const right = new Float32Array(7 * RATE);
    engine.process(left.subarray(0, RATE / 2), right.subarray(0, RATE / 2));
    engine.setRate(0.5);
    engine.process(left.subarray(RATE / 2), right.subarray(RATE / 2));
    // half a second played, half a second of schedule left at half speed: held until 1.5 s
    expect(peak(left, Math.round(1.4 * RATE), Math.round(1.5 * RATE))).toBeGreaterThan(0.01);
    expect(peak(left, Math.round(1.8 * RATE), Math.round(2 * RATE))).toBe(0);
    const onsets = onsetsAfterSilence(left);
    // 2.5 s of schedule at half speed after 0.5 s; a recording begins within 20 ms of its start
    expect(onsets[1]).toBeGreaterThanOrEqual(Math.round(5.5 * RATE));
    expect(onsets[1]).toBeLessThan(Math.round(5.52 * RATE));
  });

  test('live notes sound with the scheduled ones, from the next block on', () => {
    decodeAll(bank);
    const schedule = excerpt(3);
    const prepared = preparedOf(schedule);
    const play = (live: boolean): { left: Float32Array; right: Float32Array } => {
      const engine = new SoundEngine(RATE, new Synthesizer(bank, RATE));
      engine.load(prepared);
      engine.play();
      const left = new Float32Array(2 * RATE);
      const right = new Float32Array(2 * RATE);
      engine.process(left.subarray(0, RATE), right.subarray(0, RATE));
      if (live) engine.noteOn('vibraphone', 84, 100);
      engine.process(left.subarray(RATE, RATE * 1.5), right.subarray(RATE, RATE * 1.5));
      if (live) engine.noteOff('vibraphone', 84);
      engine.process(left.subarray(RATE * 1.5), right.subarray(RATE * 1.5));
      return { left, right };
    };
    const without = play(false).left;
    const difference = play(true).left.map((sample, index) => sample - (without[index] ?? 0));
    expect(peak(difference, 0, RATE)).toBe(0);
    expect(peak(difference, RATE, RATE + 2000)).toBeGreaterThan(0.01);
    expect(peak(difference, Math.round(1.9 * RATE))).toBeLessThan(peak(difference) / 5);
  });

  test('the pedal holds a live note until it is let go', () => {
    const left = new Float32Array(RATE);
    const right = new Float32Array(RATE);
    const after = (down: boolean): number => {
      const engine = new SoundEngine(RATE, new Synthesizer(bank, RATE));
      engine.setSustain(down);
      engine.noteOn('tine electric piano', 60, 90);
      engine.process(left, right, 4480);
      engine.noteOff('tine electric piano', 60);
      engine.process(left, right);
      const held = peak(left, RATE / 2);
      engine.setSustain(false);
      engine.process(left, right);
      expect(peak(left, RATE / 2)).toBe(0);
      return held;
    };
    expect(after(false)).toBe(0);
    expect(after(true)).toBeGreaterThan(0.01);
  });

  test('a closed hi-hat cuts an open one', () => {
    const open = { startSeconds: 0, durationSeconds: 0.1, midi: 46, velocity: 100 };
    const closed = { startSeconds: 0.5, durationSeconds: 0.1, midi: 42, velocity: 20 };
    const ringing = render(single('jazz kit', [open], 3)).left;
    const cut = render(single('jazz kit', [open, closed], 3)).left;
    expect(peak(ringing, RATE, Math.round(1.2 * RATE))).toBeGreaterThan(20 * peak(cut, RATE, Math.round(1.2 * RATE)));
  });

  test('mixing allocates nothing; a note that begins a few numbers', () => {
    setFlagsFromString('--expose-gc');
    const collect = runInNewContext('gc') as () => void;
    const left = new Float32Array(BLOCK_FRAMES);
    const right = new Float32Array(BLOCK_FRAMES);
    /** Bytes that the heap grows by in a number of blocks, after as many to warm up. */
    const growth = (schedule: Schedule, count: number): number => {
      const engine = new SoundEngine(RATE);
      engine.load(preparedOf(schedule));
      engine.play();
      const blocks = (): void => {
        for (let block = 0; block < count; block++) engine.process(left, right);
      };
      blocks();
      collect();
      const before = process.memoryUsage().heapUsed;
      blocks();
      const grown = process.memoryUsage().heapUsed - before;
      expect(engine.soundingNotes).toBeGreaterThan(0);
      return grown;
    };
    const trio = trioSchedule(1);
    const begun = trio.events.filter(({ startSeconds }) => startSeconds > 17.4 && startSeconds < 34.8).length;
    /** The least of several plays: before the compiler is done with the loops, numbers lie on the heap. */
    const least = (schedule: Schedule, count: number, limit: number): number => {
      let grown = Infinity;
      for (let play = 0; play < 8 && grown >= limit; play++) grown = Math.min(grown, growth(schedule, count));
      return grown;
    };
    expect(least(trio, 6000, 600 * begun)).toBeLessThan(600 * begun);
    const held: Schedule = {
      players: trio.players,
      events: [0, 1, 3].flatMap((player) =>
        [40, 47, 52, 56].map((midi) => ({ startSeconds: 0, durationSeconds: 18, midi, velocity: 90, player })),
      ),
      endSeconds: 18,
    };
    // one small object a block would be 40 kB at least
    expect(least(held, 2500, 20_000)).toBeLessThan(20_000);
  });
});

test('cancelling stops a rendering, and progress ends at the whole', () => {
  const reports: [number, number][] = [];
  const sound = renderSchedule(
    store,
    excerpt(3),
    {},
    { report: (done, total) => reports.push([done, total]), cancelled: () => false },
  );
  expect(sound).toBeDefined();
  expect(reports.at(-1)?.[0]).toBe(reports.at(-1)?.[1]);
  expect(reports.map(([done]) => done)).toEqual(reports.map(([done]) => done).toSorted((a, b) => a - b));
  let asked = 0;
  expect(renderSchedule(store, excerpt(3), {}, { report: () => {}, cancelled: () => ++asked > 3 })).toBeUndefined();
});

test.each([
  ['velocity', { velocity: 0 }],
  ['midi', { midi: 60.5 }],
  ['startSeconds', { startSeconds: NaN }],
  ['player', { player: 4 }],
])('a schedule with a wrong %s is refused by name', (name, wrong) => {
  const right: PlayedEvent = { startSeconds: 0, durationSeconds: 1, midi: 60, velocity: 64, player: 0 };
  const schedule = { ...single('grand', [], 1), events: [{ ...right, ...wrong }] };
  expect(() => renderSchedule(store, schedule)).toThrow(new RegExp(`^${name} `, 'u'));
});
