import { recordingsOf, type Bank } from '@fivespan/sound/bank';
import { SoundEngine, Synthesizer } from '@fivespan/sound/engine';

/**
 * What is played by hand, on the audio thread. Its recordings come decoded: nothing is decoded here. Making the synthesizer takes
 * many blocks' time, so whoever owns this makes it while nothing sounds; only striking keys and `process` run against the clock.
 */
export class LiveKeys {
  readonly #engine: SoundEngine;
  readonly #recordings: ReturnType<typeof recordingsOf>;
  #left: number;

  /** @param bank just opened; none of its recordings needs to be decoded */
  constructor(bank: Bank, sampleRate: number) {
    this.#recordings = recordingsOf(bank, 'grand');
    this.#left = this.#recordings.length;
    this.#engine = new SoundEngine(sampleRate, new Synthesizer(bank, sampleRate));
  }

  /** How many recordings are still to come; before that no key sounds. */
  get left(): number {
    return this.#left;
  }

  /** Takes a decoded recording, by its place among the grand's. Each comes once. */
  take(place: number, samples: Float32Array): void {
    const recording = this.#recordings[place];
    if (recording === undefined) throw new RangeError(`place must be below ${this.#recordings.length}, not ${place}`);
    recording.setAudioData(samples, recording.sampleRate);
    this.#left--;
  }

  noteOn(midi: number, velocity: number): void {
    if (this.#left === 0) this.#engine.noteOn('grand', midi, velocity);
  }

  noteOff(midi: number): void {
    this.#engine.noteOff('grand', midi);
  }

  setSustain(down: boolean): void {
    this.#engine.setSustain(down);
  }

  process(left: Float32Array, right: Float32Array, frames: number): void {
    this.#engine.process(left, right, frames);
  }
}
