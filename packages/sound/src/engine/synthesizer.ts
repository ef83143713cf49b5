import { GeneratorTypes, SpessaSynthProcessor, type BasicPreset } from 'spessasynth_core';
import type { Bank, Instrument } from '../bank/index.ts';

/** Frames the synthesizer computes at a time: envelopes move once a block. The same 128 as an audio thread's block. */
export const BLOCK_FRAMES = 128;

/** Voices one note may take: the grand has four (two layers in stereo); the rest is room for held live notes. */
const VOICE_CAP = 96;

const MELODIC_CHANNEL = 0;
const SUSTAIN_PEDAL = 64;
/** Channel 10 as printed: General MIDI's drum channel. */
const DRUM_CHANNEL = 9;

/**
 * What we need of the synthesizer beyond its public face: the clock (so that every note is rendered from time 0 and comes
 * out the same whatever was rendered before) and what its modulators made of a note's generators. The version is pinned;
 * `checks/sound-notes.test.ts` fails if these move.
 */
interface Voice {
  readonly isActive: boolean;
  readonly modulatedGenerators: Int16Array;
  readonly exclusiveClass: number;
  readonly filter: { readonly constructor: FilterClass };
}

interface FilterClass {
  readonly cachedCoefficients: Map<number, unknown>;
  initCache(sampleRate: number): void;
}

interface Core {
  readonly voices: readonly Voice[];
  currentTime: number;
}

/** The synthesizer keeps its filters' coefficients for all instances together, whatever their sample rate: ours to mind. */
let filterRate = 0;

/** What a note's velocity and key come to in its loudest voice. */
export interface NoteTraits {
  /** Centibels below full. */
  readonly attenuationCentibels: number;
  /** Frames in which the release falls by 96 dB. */
  readonly releaseFrames: number;
  /** Notes of one class other than 0 silence each other: open and closed hi-hat. */
  readonly exclusiveClass: number;
}

/** A synthesizer on one bank: one note at a time, exactly repeatable, or notes as they come (live). Effects are off. */
export class Synthesizer {
  readonly sampleRate: number;
  readonly #processor: SpessaSynthProcessor;
  readonly #core: Core;
  readonly #bank: Bank;
  readonly #programs = new Map<number, number>();
  readonly #pair: Float32Array[] = [];
  readonly #outputs: Float32Array[][] = [this.#pair];

  /** @param sampleRate frames a second, 8000 to 192000 */
  constructor(bank: Bank, sampleRate: number) {
    if (!(sampleRate >= 8000 && sampleRate <= 192_000)) {
      throw new RangeError(`sampleRate must be 8000 to 192000 frames a second, not ${sampleRate}`);
    }
    this.sampleRate = sampleRate;
    this.#bank = bank;
    this.#processor = new SpessaSynthProcessor(sampleRate, {
      effectsEnabled: false,
      eventsEnabled: false,
      maxBufferSize: BLOCK_FRAMES,
    });
    this.#processor.setSystemParameter('voiceCap', VOICE_CAP);
    this.#processor.soundBankManager.addSoundBank(bank.soundBank, bank.name);
    this.#processor.reset();
    this.#core = (this.#processor as unknown as { synthCore: Core }).synthCore;
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

  /** The bank's entry for an instrument. */
  presetOf(instrument: Instrument): BasicPreset {
    const preset = this.#bank.soundBank.presets.find(
      (each) => each.isGMGSDrum === instrument.isKit && each.program === instrument.program,
    );
    if (preset === undefined) throw new RangeError(`instrument must be in the bank: ${instrument.id}`);
    return preset;
  }

  /** Silence at once, clock at 0: the state every rendered note starts from. */
  restart(): void {
    this.#processor.stopAllChannels(true);
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

  /** The traits of the note just struck, alone, after `restart`. Undefined when nothing sounds on that key. */
  traits(): NoteTraits | undefined {
    let loudest: Voice | undefined;
    for (const voice of this.#core.voices) {
      if (!voice.isActive) continue;
      if (loudest === undefined || attenuationOf(voice) < attenuationOf(loudest)) loudest = voice;
    }
    if (loudest === undefined) return undefined;
    const timecents = Math.max(
      SHORTEST_RELEASE_TIMECENTS,
      loudest.modulatedGenerators[GeneratorTypes.releaseVolEnv] ?? 0,
    );
    return {
      attenuationCentibels: attenuationOf(loudest),
      releaseFrames: Math.max(1, Math.floor(2 ** (timecents / 1200) * this.sampleRate)),
      exclusiveClass: loudest.exclusiveClass,
    };
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
}

/** The synthesizer's own floor: 2^(-7200/1200) s. */
const SHORTEST_RELEASE_TIMECENTS = -7200;

function attenuationOf(voice: Voice): number {
  return voice.modulatedGenerators[GeneratorTypes.initialAttenuation] ?? 0;
}
