import { instrumentOf, type Bank, type Instrument, type InstrumentId } from '../bank/index.ts';
import { makeRelease, type Release } from './release.ts';
import {
  isHeardAfter,
  leastFrames,
  noteFor,
  PEAK_STEP_FRAMES,
  SILENCE,
  type NoteNeed,
  type Recording,
  type RenderedNote,
} from './rendered-note.ts';
import { soundingVelocity } from './velocity.ts';
import { BLOCK_FRAMES } from './block-frames.ts';
import { hasSameZones, isOnlyLouder, type NoteTraits, type Struck } from './struck.ts';
import { Synthesizer } from './synthesizer.ts';

/** Longest a rendered note rings, in seconds; a held low string of the grand is longer. */
const LONGEST_SECONDS = 20;

/** Blocks of silence after which a note is over though the synthesizer still keeps it: 0.19 s at 44.1 kHz. */
const QUIET_BLOCKS = 64;

/** What is rendered beyond the frame where a note is left at least, in seconds: more than the engine's quickest fade takes. */
const LEAST_TAIL_SECONDS = 0.02;

/** The velocity that speaks for all where velocity makes a note only louder, as on most drums and cymbals: about mezzo-forte. */
const PLAIN_VELOCITY = 64;

/**
 * Velocities that share one rendered tone colour. Loudness follows every velocity exactly; only the brightness moves in steps
 * of this many, 16 of them from pp to ff. `checks/sound/notes.test.ts` says how far that is from a note rendered for itself.
 */
export const TONE_STEP = 4;

/** A note as it is to be mixed: a rendered note and the gain that its own velocity makes of it. */
export interface StoredNote {
  readonly rendered: RenderedNote;
  readonly gain: number;
}

/** A velocity that is rendered, for itself and those near it. */
type Tone = Pick<Struck, 'velocity' | 'traits'>;

/** How much a store keeps by default: enough for a trio in one key, and under what a phone's browser gives a page. */
const DEFAULT_BUDGET_BYTES = 256_000_000;

/**
 * Renders each note once and keeps it: same instrument, key and tone colour, same samples. Every note is rendered alone from
 * time 0 in blocks of 128 frames, so what comes out depends on the note only, never on what was rendered before.
 */
export class NoteStore {
  readonly sampleRate: number;
  readonly #synthesizer: Synthesizer;
  readonly #budgetBytes: number;
  /** Least recently used first. */
  readonly #recordings = new Map<string, Recording>();
  readonly #tones = new Map<string, Tone | null>();
  readonly #plain = new Map<string, Struck | undefined>();
  readonly #traits = new Map<string, NoteTraits | null>();
  readonly #releases = new Map<number, Release>();
  readonly #scratchLeft: Float32Array;
  readonly #scratchRight: Float32Array;
  readonly #leastTailFrames: number;
  #bytes = 0;
  #renderedFrames = 0;
  #renderedNotes = 0;

  /**
   * @param sampleRate frames a second
   * @param budgetBytes kept notes above this are forgotten, longest unused first
   */
  constructor(bank: Bank, sampleRate: number, budgetBytes = DEFAULT_BUDGET_BYTES) {
    this.#synthesizer = new Synthesizer(bank, sampleRate);
    this.sampleRate = sampleRate;
    this.#budgetBytes = budgetBytes;
    const longest = leastFrames(LONGEST_SECONDS * sampleRate, 0);
    this.#scratchLeft = new Float32Array(longest);
    this.#scratchRight = new Float32Array(longest);
    this.#leastTailFrames = Math.ceil(LEAST_TAIL_SECONDS * sampleRate);
  }

  /** Frames after which no note sounds any more. */
  get longestFrames(): number {
    return this.#scratchLeft.length;
  }

  /** What has been rendered since the start, and what is kept now. */
  get counters(): { readonly renderedNotes: number; readonly renderedSeconds: number; readonly keptBytes: number } {
    return {
      renderedNotes: this.#renderedNotes,
      renderedSeconds: this.#renderedFrames / this.sampleRate,
      keptBytes: this.#bytes,
    };
  }

  /**
   * Name of the rendered note that this note shares, and its release: for planning before anything is rendered.
   * @returns undefined when nothing sounds on that key
   */
  lookUp(
    instrument: InstrumentId,
    key: number,
    velocity: number,
  ): { readonly name: string; readonly gain: number; readonly release: Release } | undefined {
    const played = soundingVelocity(velocity);
    const tone = this.#toneOf(instrumentOf(instrument), key, played);
    const own = this.#traits.get(nameOf(instrument, key, played)) ?? null;
    if (tone === null || own === null) return undefined;
    return {
      name: nameOf(instrument, key, tone.velocity),
      gain: 10 ** ((tone.traits.attenuationCentibels - own.attenuationCentibels) / 200),
      release: this.#releaseOf(tone.traits.releaseFrames),
    };
  }

  /**
   * The note, rendered now or before. What comes out depends on the need alone, not on what was rendered before.
   * @param need how many frames it must have at least, unless it ends earlier by itself; or all the ways in which it will be
   * used: it is then as long as the last of them is heard, which is known only while it is rendered
   * @returns undefined when nothing sounds on that key
   */
  note(instrument: InstrumentId, key: number, velocity: number, need: NoteNeed): StoredNote | undefined {
    const found = this.lookUp(instrument, key, velocity);
    if (found === undefined) return undefined;
    const { name, gain } = found;
    const kept = this.#recordings.get(name);
    if (kept !== undefined) {
      this.#forget(name, kept);
      const rendered = noteFor(kept, need, this.#leastTailFrames);
      if (rendered !== undefined) {
        this.#keep(name, kept);
        return { rendered, gain };
      }
    }
    const tone = this.#toneOf(instrumentOf(instrument), key, soundingVelocity(velocity));
    if (tone === null) return undefined;
    const recording = this.#record(instrumentOf(instrument), key, tone, need);
    this.#keep(name, recording);
    for (const [oldest, other] of this.#recordings) {
      if (this.#bytes <= this.#budgetBytes || oldest === name) break;
      this.#forget(oldest, other);
    }
    const rendered = noteFor(recording, need, this.#leastTailFrames);
    if (rendered === undefined) throw new Error(`${name} was rendered shorter than it is needed`);
    return { rendered, gain };
  }

  #keep(name: string, recording: Recording): void {
    this.#recordings.set(name, recording);
    this.#bytes += bytesOf(recording);
  }

  #forget(name: string, recording: Recording): void {
    this.#recordings.delete(name);
    this.#bytes -= bytesOf(recording);
  }

  #record(instrument: Instrument, key: number, { velocity, traits }: Tone, need: NoteNeed): Recording {
    const synthesizer = this.#synthesizer;
    const left = this.#scratchLeft;
    const right = this.#scratchRight;
    const release = this.#releaseOf(traits.releaseFrames);
    const peaks: number[] = [];
    // First as long as it is held; then step by step until nobody hears more.
    let wanted = Math.min(left.length, leastFrames(need, this.#leastTailFrames));
    synthesizer.claimFilters();
    synthesizer.restart();
    synthesizer.noteOn(instrument, key, velocity);
    const isEven = synthesizer.processFirst(left, right);
    let done = 0;
    let quiet = 0;
    let isHeard = false;
    for (;;) {
      while (done < wanted && (done === 0 || synthesizer.sounding) && quiet < QUIET_BLOCKS) {
        if (done > 0) synthesizer.processHeld(left, right, done);
        // while the block is at hand
        const peak = isEven ? peakOf(left, done) : Math.max(peakOf(left, done), peakOf(right, done));
        const step = Math.floor(done / PEAK_STEP_FRAMES);
        peaks[step] = Math.max(peaks[step] ?? 0, peak);
        const isQuiet = peak < SILENCE;
        isHeard ||= !isQuiet;
        quiet = isQuiet && isHeard ? quiet + 1 : 0;
        done += BLOCK_FRAMES;
      }
      if (done < wanted || done === left.length || !isHeardAfter(done, need, { peaks, release })) break;
      wanted += PEAK_STEP_FRAMES;
    }
    const isOver = !synthesizer.sounding || quiet >= QUIET_BLOCKS;
    synthesizer.restart();
    this.#renderedFrames += done;
    this.#renderedNotes++;
    const keptLeft = left.slice(0, done);
    return {
      left: keptLeft,
      right: isEven ? keptLeft : right.slice(0, done),
      // what rings longer than the longest is faded by the engine
      isWhole: isOver,
      peaks,
      release,
      exclusiveClass: traits.exclusiveClass,
    };
  }

  #releaseOf(frames: number): Release {
    let release = this.#releases.get(frames);
    if (release === undefined) this.#releases.set(frames, (release = makeRelease(frames)));
    return release;
  }

  /**
   * The velocity whose tone colour a velocity takes: one for all where velocity makes a note only louder, else the middle of
   * those velocities in its step that have the same recordings and settings in the bank.
   */
  #toneOf(instrument: Instrument, key: number, velocity: number): Tone | null {
    const name = nameOf(instrument.id, key, velocity);
    const known = this.#tones.get(name);
    if (known !== undefined) return known;
    const plain = this.#plainOf(instrument, key);
    const lowest = velocity - ((velocity - 1) % TONE_STEP);
    const highest = Math.min(127, lowest + TONE_STEP - 1);
    const struck = Array.from({ length: highest - lowest + 1 }, (_, index) =>
      this.#synthesizer.strike(instrument, key, lowest + index),
    );
    for (const [index, own] of struck.entries()) {
      const each = nameOf(instrument.id, key, lowest + index);
      const tone = toneAmong(struck, own, plain);
      this.#tones.set(each, tone && { velocity: tone.velocity, traits: tone.traits });
      this.#traits.set(each, own?.traits ?? null);
    }
    return this.#tones.get(name) ?? null;
  }

  #plainOf(instrument: Instrument, key: number): Struck | undefined {
    const name = `${instrument.id} ${key}`;
    if (!this.#plain.has(name)) {
      this.#plain.set(name, this.#synthesizer.strike(instrument, key, PLAIN_VELOCITY));
    }
    return this.#plain.get(name);
  }
}

function toneAmong(
  struck: readonly (Struck | undefined)[],
  own: Struck | undefined,
  plain: Struck | undefined,
): Struck | null {
  if (own === undefined) return null;
  if (plain !== undefined && isOnlyLouder(own, plain)) return plain;
  const alike = struck.filter((each) => each !== undefined && hasSameZones(each, own));
  return alike[alike.length >> 1] ?? own;
}

const nameOf = (instrument: InstrumentId, key: number, velocity: number): string => `${instrument} ${key} ${velocity}`;

const bytesOf = ({ left, right }: Recording): number => (left === right ? 4 : 8) * left.length;

/** The loudest sample of a block. */
function peakOf(samples: Float32Array, from: number): number {
  let peak = 0;
  for (let index = from; index < from + BLOCK_FRAMES; index++) {
    const here = Math.abs(samples[index] as number);
    if (here > peak) peak = here;
  }
  return peak;
}
