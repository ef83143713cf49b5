import { SpessaSynthProcessor } from 'spessasynth_core';
import type { Bank, Instrument } from '../bank/index.ts';
import { BLOCK_FRAMES } from './block-frames.ts';
import { NoteVoices } from './note-voices.ts';
import { struckOf, type Struck } from './struck.ts';
import type { SynthesizerCore } from './synthesizer-voice.ts';

export { BLOCK_FRAMES };

/** Voices one note may take: the grand has four (two layers in stereo); the rest is room for held live notes. */
const VOICE_CAP = 96;

const MELODIC_CHANNEL = 0;
const SUSTAIN_PEDAL = 64;
/** Channel 10 as printed: General MIDI's drum channel. */
const DRUM_CHANNEL = 9;

/** The synthesizer keeps its filters' coefficients for all instances together, whatever their sample rate: ours to mind. */
let filterRate = 0;

/** A synthesizer on one bank: one note at a time, exactly repeatable, or notes as they come (live). Effects are off. */
export class Synthesizer {
  readonly sampleRate: number;
  readonly #processor: SpessaSynthProcessor;
  readonly #core: SynthesizerCore;
  readonly #voices: NoteVoices;
  #isTaken = false;
  readonly #programs = new Map<number, number>();
  readonly #pair: Float32Array[] = [];
  readonly #outputs: Float32Array[][] = [this.#pair];

  /** @param sampleRate frames a second, 8000 to 192000 */
  constructor(bank: Bank, sampleRate: number) {
    if (!(sampleRate >= 8000 && sampleRate <= 192_000)) {
      throw new RangeError(`sampleRate must be 8000 to 192000 frames a second, not ${sampleRate}`);
    }
    this.sampleRate = sampleRate;
    this.#processor = new SpessaSynthProcessor(sampleRate, {
      effectsEnabled: false,
      eventsEnabled: false,
      maxBufferSize: BLOCK_FRAMES,
    });
    this.#processor.setSystemParameter('voiceCap', VOICE_CAP);
    this.#processor.soundBankManager.addSoundBank(bank.soundBank, bank.name);
    this.#processor.reset();
    this.#core = (this.#processor as unknown as { synthCore: SynthesizerCore }).synthCore;
    this.#voices = new NoteVoices(this.#core, sampleRate);
    filterRate = 0;
    this.claimFilters();
  }

  /** Makes the filters' shared table this rate's. Call before rendering, when synthesizers of two rates live together. */
  claimFilters(): void {
    if (filterRate === this.sampleRate) return;
    const filters = this.#core.voices[0]?.filter.constructor;
    if (filters === undefined) throw new TypeError('the synthesizer has no voices');
    filters.cachedCoefficients.clear();
    filters.initCache(this.sampleRate);
    filterRate = this.sampleRate;
  }

  /** Silence at once, clock at 0: the state every rendered note starts from. */
  restart(): void {
    // the channels that were played only: the synthesizer's own call goes through all sixteen
    for (const channel of this.#programs.keys()) this.#core.midiChannels[channel]?.stopAllNotes(true);
    this.#core.currentTime = 0;
  }

  /** Strikes a key. A melodic instrument and a kit can sound together, two melodic ones on two channels. */
  noteOn(instrument: Instrument, key: number, velocity: number, channel = MELODIC_CHANNEL): void {
    const played = instrument.isKit ? DRUM_CHANNEL : channel;
    if (this.#programs.get(played) !== instrument.program) {
      this.#processor.programChange(played, instrument.program);
      this.#programs.set(played, instrument.program);
    }
    this.#processor.noteOn(played, key, velocity);
  }

  noteOff(instrument: Instrument, key: number, channel = MELODIC_CHANNEL): void {
    this.#processor.noteOff(instrument.isKit ? DRUM_CHANNEL : channel, key);
  }

  /** Holds what is struck on a channel, or lets go: the damper pedal (MIDI controller 64). */
  setSustain(down: boolean, channel = MELODIC_CHANNEL): void {
    this.#processor.controllerChange(channel, SUSTAIN_PEDAL, down ? 127 : 0);
  }

  /** What a note would be; nothing sounds then. Undefined when nothing sounds on that key. */
  strike(instrument: Instrument, key: number, velocity: number): Struck | undefined {
    this.restart();
    this.noteOn(instrument, key, velocity);
    const voices = this.#core.voices.filter(({ isActive }) => isActive);
    this.restart();
    return struckOf(velocity, voices, this.sampleRate);
  }

  /** Whether any voice still sounds. */
  get sounding(): boolean {
    // Asked once a block on the audio thread: no closure, no allocation.
    const { voices } = this.#core;
    for (let index = 0; index < voices.length; index++) if (voices[index]?.isActive === true) return true;
    return false;
  }

  /** Adds the next `frames` (at most BLOCK_FRAMES) to both channels from `offset` on. */
  process(left: Float32Array, right: Float32Array, offset: number, frames: number): void {
    // The plain call of the synthesizer makes two arrays a block; ours are kept.
    this.#pair[0] = left;
    this.#pair[1] = right;
    this.#processor.processSplit(this.#outputs, left, right, offset, frames);
  }

  /**
   * Writes the first block of the note just struck, alone, after `restart`; what follows is for `processHeld`.
   * @returns whether both sides stay the same: `processHeld` then leaves the right one alone
   */
  processFirst(left: Float32Array, right: Float32Array): boolean {
    left.fill(0, 0, BLOCK_FRAMES);
    right.fill(0, 0, BLOCK_FRAMES);
    this.process(left, right, 0, BLOCK_FRAMES);
    this.#isTaken = this.#voices.take();
    return this.#isTaken && this.#voices.isEven;
  }

  /** Whether the note just begun goes the quick way. */
  get isQuick(): boolean {
    return this.#isTaken;
  }

  /** Writes the next block of a held note from `offset` on: the quick way, but for rounding what `process` adds to silence. */
  processHeld(left: Float32Array, right: Float32Array, offset: number): void {
    if (this.#isTaken) {
      this.#voices.process(left, right, offset);
      return;
    }
    left.fill(0, offset, offset + BLOCK_FRAMES);
    right.fill(0, offset, offset + BLOCK_FRAMES);
    this.process(left, right, offset, BLOCK_FRAMES);
  }
}
