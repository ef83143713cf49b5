/** What is spoken, laid under what is played: the music goes back while somebody speaks. */
import { LoudnessMeter } from './loudness.ts';
import type { SoundSink } from '../engine/index.ts';

/** A recording of a voice, one channel at the film's own rate, and where it begins. */
export interface LaidVoice {
  readonly startSeconds: number;
  readonly samples: Float32Array;
}

/**
 * How loud a voice is made before everything is evened: as loud as the trio by itself (the demo's chorus has −18.2 LUFS, a piano that shows
 * a scale −26.5). Its gain is bounded, so that a hum is not blown up into a voice.
 */
const VOICE_LUFS = -18;
const LEAST_GAIN = 0.05;
const MOST_GAIN = 30;
/** The music under a voice. Common practice: 12 to 15 dB below it. */
const DUCKED_DB = -13;
/** It has gone back when the voice begins, and comes again when nothing was said for a while. Common practice. */
const DOWN_SECONDS = 0.25;
const HOLD_SECONDS = 0.7;
const UP_SECONDS = 0.8;
/** Speech is looked for in steps of so long, and is what lies so little below its loudest step. */
const STEP_SECONDS = 0.02;
const SPEECH_BELOW_DB = -32;

/** How loud a recording is by itself; undefined where there is only silence. */
function loudnessOf(samples: Float32Array, sampleRate: number): number | undefined {
  const meter = new LoudnessMeter(sampleRate);
  meter.add(samples, samples, samples.length);
  return meter.integratedLufs;
}

/** For each step, whether somebody speaks in it. */
function speechOf(samples: Float32Array, step: number): boolean[] {
  const powers: number[] = [];
  for (let from = 0; from < samples.length; from += step) {
    const to = Math.min(samples.length, from + step);
    let power = 0;
    for (let at = from; at < to; at++) power += (samples[at] as number) ** 2;
    powers.push(power / (to - from));
  }
  const least = powers.reduce((most, power) => Math.max(most, power), 0) * 10 ** (SPEECH_BELOW_DB / 10);
  return powers.map((power) => power > 0 && power >= least);
}

/** What the music is multiplied by at each step, from before the voice until behind it. */
function gainsOf(speech: readonly boolean[], before: number, behind: number): Float32Array {
  const [down, hold, up] = [DOWN_SECONDS / STEP_SECONDS, HOLD_SECONDS / STEP_SECONDS, UP_SECONDS / STEP_SECONDS];
  // how far it has gone back, 0 to 1
  const back = new Float32Array(before + speech.length + behind);
  let silent = Number.POSITIVE_INFINITY;
  for (let at = 0; at < back.length; at++) {
    silent = speech[at - before] === true ? 0 : silent + 1;
    back[at] = Math.max(0, Math.min(1, 1 - (silent - hold) / up));
  }
  // and back in time: it has gone when the first word comes
  for (let at = back.length - 2; at >= 0; at--)
    back[at] = Math.max(back[at] as number, (back[at + 1] as number) - 1 / down);
  return back.map((each) => 10 ** ((DUCKED_DB * each) / 20));
}

interface Prepared {
  readonly from: number;
  readonly samples: Float32Array;
  readonly gain: number;
  readonly music: Float32Array;
  /** The frame that the first step of `music` stands for. */
  readonly musicFrom: number;
}

/** Voices, evened and listened to: asked for what lays them under music. */
export class VoiceOver {
  readonly #voices: readonly Prepared[];
  readonly #step: number;

  /**
   * @param sampleRate of voices and music, frames a second
   */
  constructor(sampleRate: number, voices: readonly LaidVoice[]) {
    const step = Math.round(STEP_SECONDS * sampleRate);
    const before = Math.ceil(DOWN_SECONDS / STEP_SECONDS) + 1;
    const behind = Math.ceil((HOLD_SECONDS + UP_SECONDS) / STEP_SECONDS) + 1;
    this.#step = step;
    this.#voices = voices.map(({ startSeconds, samples }) => {
      const lufs = loudnessOf(samples, sampleRate);
      const wanted = lufs === undefined ? 1 : 10 ** ((VOICE_LUFS - lufs) / 20);
      const from = Math.round(startSeconds * sampleRate);
      return {
        from,
        samples,
        gain: Math.min(MOST_GAIN, Math.max(LEAST_GAIN, wanted)),
        music: gainsOf(speechOf(samples, step), before, behind),
        musicFrom: from - before * step,
      };
    });
  }

  /** What lays the voices under music that comes to it from its first frame on, piece by piece. Each pass over the music asks for its own. */
  pass(): SoundSink {
    let now = 0;
    let gains = new Float32Array(0);
    return (left, right, frames) => {
      const near = this.#voices.filter(
        ({ musicFrom, music }) => musicFrom < now + frames && musicFrom + music.length * this.#step > now,
      );
      if (near.length > 0) {
        if (gains.length < frames) gains = new Float32Array(frames);
        gains.fill(1);
        // one voice after another: the music goes back once, not twice
        for (const voice of near) this.#duck(voice, gains, now, frames);
        for (let index = 0; index < frames; index++) {
          left[index] = (left[index] as number) * (gains[index] as number);
          right[index] = (right[index] as number) * (gains[index] as number);
        }
        for (const voice of near) add(voice, left, right, now, frames);
      }
      now += frames;
    };
  }

  #duck({ music, musicFrom }: Prepared, gains: Float32Array, now: number, frames: number): void {
    const step = this.#step;
    const to = Math.min(frames, musicFrom + (music.length - 1) * step - now);
    for (let index = Math.max(0, musicFrom - now); index < to; index++) {
      const place = (now + index - musicFrom) / step;
      const whole = Math.floor(place);
      const here = music[whole] as number;
      const gain = here + ((music[whole + 1] as number) - here) * (place - whole);
      gains[index] = Math.min(gains[index] as number, gain);
    }
  }
}

function add(
  { from, samples, gain }: Prepared,
  left: Float32Array,
  right: Float32Array,
  now: number,
  frames: number,
): void {
  const to = Math.min(frames, from + samples.length - now);
  for (let index = Math.max(0, from - now); index < to; index++) {
    const spoken = (samples[now + index - from] as number) * gain;
    left[index] = (left[index] as number) + spoken;
    right[index] = (right[index] as number) + spoken;
  }
}
