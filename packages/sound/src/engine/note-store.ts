import { instrumentOf, type Bank, type Instrument, type InstrumentId } from '../bank/index.ts';
import { makeRelease, type Release } from './release.ts';
import { soundingVelocity } from './velocity.ts';
import { BLOCK_FRAMES, Synthesizer, type NoteTraits } from './synthesizer.ts';

/** What is softer than this is silence: half the last bit of a 16-bit file, 96 dB below full scale. */
export const SILENCE = 2 ** -16;

/** Frames for which one figure says how loud a note still gets. */
export const PEAK_STEP_FRAMES = 2048;

/** Longest a rendered note rings, in seconds; a held low string of the grand is longer. */
const LONGEST_SECONDS = 20;

/** Blocks of silence after which a note is over though the synthesizer still keeps it: 0.19 s at 44.1 kHz. */
const QUIET_BLOCKS = 64;

/**
 * Velocities that share one rendered tone colour. Loudness follows every velocity exactly; only the brightness moves in steps
 * of this many, 16 of them from pp to ff. `checks/sound-notes.test.ts` says how far that is from a note rendered for itself.
 */
export const TONE_STEP = 4;

/** A note rendered without end, as long as was needed so far. */
export interface RenderedNote {
  readonly left: Float32Array;
  /** The same array as `left` when both sides are equal. */
  readonly right: Float32Array;
  /** It goes on, but nobody needed more. */
  readonly isCut: boolean;
  /** The loudest sample from every PEAK_STEP_FRAMES-th frame on to the end. */
  readonly peaksAhead: Float32Array;
  readonly release: Release;
  readonly exclusiveClass: number;
}

/** A note as it is to be mixed: a rendered note and the gain that its own velocity makes of it. */
export interface StoredNote {
  readonly rendered: RenderedNote;
  readonly gain: number;
}

interface Tone {
  readonly velocity: number;
  readonly traits: NoteTraits;
}

/** How much a store may keep, unless told: enough for a trio in one key, and under what a phone's browser gives a page. */
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
  readonly #notes = new Map<string, RenderedNote>();
  readonly #tones = new Map<string, Tone | null>();
  readonly #traits = new Map<string, NoteTraits | null>();
  readonly #releases = new Map<number, Release>();
  readonly #scratchLeft: Float32Array;
  readonly #scratchRight: Float32Array;
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
    const longest = Math.ceil((LONGEST_SECONDS * sampleRate) / BLOCK_FRAMES) * BLOCK_FRAMES;
    this.#scratchLeft = new Float32Array(longest);
    this.#scratchRight = new Float32Array(longest);
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
    const own = this.#traitsOf(instrumentOf(instrument), key, played);
    if (tone === null || own === null) return undefined;
    return {
      name: nameOf(instrument, key, tone.velocity),
      gain: 10 ** ((tone.traits.attenuationCentibels - own.attenuationCentibels) / 200),
      release: this.#releaseOf(tone.traits.releaseFrames),
    };
  }

  /**
   * The note, rendered now or before.
   * @param frames how long it must be at least, unless it ends earlier by itself
   * @returns undefined when nothing sounds on that key
   */
  note(instrument: InstrumentId, key: number, velocity: number, frames: number): StoredNote | undefined {
    const found = this.lookUp(instrument, key, velocity);
    if (found === undefined) return undefined;
    const kept = this.#notes.get(found.name);
    if (kept !== undefined && (!kept.isCut || kept.left.length >= Math.min(frames, this.#scratchLeft.length))) {
      this.#notes.delete(found.name);
      this.#notes.set(found.name, kept);
      return { rendered: kept, gain: found.gain };
    }
    const tone = this.#toneOf(instrumentOf(instrument), key, soundingVelocity(velocity));
    if (tone === null) return undefined;
    if (kept !== undefined) this.#forget(found.name, kept);
    const rendered = this.#render(instrumentOf(instrument), key, tone, frames);
    this.#notes.set(found.name, rendered);
    this.#bytes += bytesOf(rendered);
    for (const [name, oldest] of this.#notes) {
      if (this.#bytes <= this.#budgetBytes || name === found.name) break;
      this.#forget(name, oldest);
    }
    return { rendered, gain: found.gain };
  }

  #forget(name: string, note: RenderedNote): void {
    this.#notes.delete(name);
    this.#bytes -= bytesOf(note);
  }

  #render(instrument: Instrument, key: number, { velocity, traits }: Tone, frames: number): RenderedNote {
    const synthesizer = this.#synthesizer;
    const left = this.#scratchLeft;
    const right = this.#scratchRight;
    const wanted = Math.min(left.length, Math.ceil(frames / BLOCK_FRAMES) * BLOCK_FRAMES);
    left.fill(0, 0, wanted);
    right.fill(0, 0, wanted);
    synthesizer.claimFilters();
    synthesizer.restart();
    synthesizer.noteOn(instrument, key, velocity);
    let done = 0;
    let quiet = 0;
    let isHeard = false;
    while (done < wanted && synthesizer.sounding && quiet < QUIET_BLOCKS) {
      synthesizer.process(left, right, done, BLOCK_FRAMES);
      const isQuiet = isSilent(left, right, done, done + BLOCK_FRAMES);
      isHeard ||= !isQuiet;
      quiet = isQuiet && isHeard ? quiet + 1 : 0;
      done += BLOCK_FRAMES;
    }
    const isCut = synthesizer.sounding && quiet < QUIET_BLOCKS;
    synthesizer.restart();
    this.#renderedFrames += done;
    this.#renderedNotes++;
    const length = isCut ? done : lengthAbove(left, right, done);
    const keptLeft = left.slice(0, length);
    return {
      left: keptLeft,
      right: sameSamples(left, right, length) ? keptLeft : right.slice(0, length),
      isCut,
      peaksAhead: peaksAhead(left, right, length),
      release: this.#releaseOf(traits.releaseFrames),
      exclusiveClass: traits.exclusiveClass,
    };
  }

  #releaseOf(frames: number): Release {
    let release = this.#releases.get(frames);
    if (release === undefined) this.#releases.set(frames, (release = makeRelease(frames)));
    return release;
  }

  #traitsOf(instrument: Instrument, key: number, velocity: number): NoteTraits | null {
    const name = nameOf(instrument.id, key, velocity);
    let traits = this.#traits.get(name);
    if (traits === undefined) {
      this.#synthesizer.restart();
      this.#synthesizer.noteOn(instrument, key, velocity);
      traits = this.#synthesizer.traits() ?? null;
      this.#synthesizer.restart();
      this.#traits.set(name, traits);
    }
    return traits;
  }

  /** The velocity whose tone colour a velocity takes: the middle of those in its step that have the same recordings and settings. */
  #toneOf(instrument: Instrument, key: number, velocity: number): Tone | null {
    const name = nameOf(instrument.id, key, velocity);
    const known = this.#tones.get(name);
    if (known !== undefined) return known;
    const lowest = velocity - ((velocity - 1) % TONE_STEP);
    const highest = Math.min(127, lowest + TONE_STEP - 1);
    const preset = this.#synthesizer.presetOf(instrument);
    const signatures: string[] = [];
    for (let each = lowest; each <= highest; each++) {
      signatures.push(
        preset
          .getVoiceParameters(key, each)
          .map(({ sample, generators }) => `${sample.name}:${generators.join(',')}`)
          .join(';'),
      );
    }
    for (let each = lowest; each <= highest; each++) {
      const alike = signatures.flatMap((signature, index) =>
        signature === signatures[each - lowest] ? [lowest + index] : [],
      );
      const middle = alike[alike.length >> 1] ?? each;
      const traits = this.#traitsOf(instrument, key, middle);
      this.#tones.set(nameOf(instrument.id, key, each), traits === null ? null : { velocity: middle, traits });
    }
    return this.#tones.get(name) ?? null;
  }
}

const nameOf = (instrument: InstrumentId, key: number, velocity: number): string => `${instrument} ${key} ${velocity}`;

const bytesOf = ({ left, right }: RenderedNote): number => (left === right ? 4 : 8) * left.length;

function peakOf(left: Float32Array, right: Float32Array, from: number, to: number): number {
  let peak = 0;
  for (let index = from; index < to; index++) {
    const here = Math.max(Math.abs(left[index] ?? 0), Math.abs(right[index] ?? 0));
    if (here > peak) peak = here;
  }
  return peak;
}

/** Answered by the first sample, as a rule. */
function isSilent(left: Float32Array, right: Float32Array, from: number, to: number): boolean {
  for (let index = from; index < to; index++) {
    if (Math.abs(left[index] as number) >= SILENCE || Math.abs(right[index] as number) >= SILENCE) return false;
  }
  return true;
}

function peaksAhead(left: Float32Array, right: Float32Array, length: number): Float32Array {
  const peaks = new Float32Array(Math.ceil(length / PEAK_STEP_FRAMES));
  let ahead = 0;
  for (let step = peaks.length - 1; step >= 0; step--) {
    const from = step * PEAK_STEP_FRAMES;
    ahead = Math.max(ahead, peakOf(left, right, from, Math.min(length, from + PEAK_STEP_FRAMES)));
    peaks[step] = ahead;
  }
  return peaks;
}

function lengthAbove(left: Float32Array, right: Float32Array, end: number): number {
  let length = end;
  while (length > 0 && Math.abs(left[length - 1] ?? 0) < SILENCE && Math.abs(right[length - 1] ?? 0) < SILENCE)
    length--;
  return length;
}

function sameSamples(left: Float32Array, right: Float32Array, end: number): boolean {
  for (let index = 0; index < end; index++) if (left[index] !== right[index]) return false;
  return true;
}
