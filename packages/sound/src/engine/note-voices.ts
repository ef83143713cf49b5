import { GeneratorTypes } from 'spessasynth_core';
import { BLOCK_FRAMES } from './block-frames.ts';
import type { LowPass, SynthesizerCore, Voice, Wavetable } from './synthesizer-voice.ts';

/*
 * The synthesizer's voices of one note, held and alone, at less than half the cost of its own loops: voices that read the same recording at
 * the same place read it once (the grand's two layers are one recording through two filters), their filters run side by side,
 * and a voice wholly to one side is added there only. Envelopes and coefficients stay the synthesizer's own. What comes out
 * is its output but for rounding: `checks/sound/notes.test.ts` asks for −120 dB.
 */

/** Above this cutoff, in absolute cents, without resonance, the synthesizer leaves the filter out. */
const OPEN_CENTS = 13_499;

/** Generators that move a voice in ways not covered here: they must be 0. */
const MUST_BE_ZERO = [
  GeneratorTypes.vibLfoToPitch,
  GeneratorTypes.vibLfoToFilterFc,
  GeneratorTypes.vibLfoAmplitudeDepth,
  GeneratorTypes.modLfoToPitch,
  GeneratorTypes.modLfoToFilterFc,
  GeneratorTypes.modLfoToVolume,
  GeneratorTypes.modLfoAmplitudeDepth,
  GeneratorTypes.modEnvToPitch,
  GeneratorTypes.amplitude,
] as const;

/** A gain below this is none: −180 dB, what is left of a cosine of a right angle. */
const NO_GAIN = 1e-9;

/** Voices that read one recording at one place, and lie at one place between left and right. */
interface Group {
  readonly voices: readonly [Voice, Voice | undefined];
  /** Each voice's gain before its envelope moves it. */
  readonly gainTargets: readonly [number, number];
  readonly gainLeft: number;
  readonly gainRight: number;
  readonly isOpen: boolean;
}

/** Plays on the voices of a note whose first block the synthesizer itself has rendered. */
export class NoteVoices {
  readonly #core: SynthesizerCore;
  readonly #blockSeconds: number;
  readonly #groups: Group[] = [];
  readonly #read = new Float64Array(BLOCK_FRAMES);
  readonly #made = new Float32Array(BLOCK_FRAMES);
  #isEven = false;

  constructor(core: SynthesizerCore, sampleRate: number) {
    this.#core = core;
    this.#blockSeconds = BLOCK_FRAMES / sampleRate;
  }

  /** Whether both sides are the same: `process` then leaves the right one alone. */
  get isEven(): boolean {
    return this.#isEven;
  }

  /** Takes over all voices that sound. False where one of them does something that only the synthesizer can. */
  take(): boolean {
    this.#groups.length = 0;
    const voices = this.#core.voices.filter(({ isActive }) => isActive);
    if (!voices.every((voice) => this.#isCovered(voice))) return false;
    const alone = [...voices];
    for (let first = alone.shift(); first !== undefined; first = alone.shift()) {
      const voice = first;
      const match = alone.findIndex((other) => readsAlike(voice, other));
      const second = match < 0 ? undefined : alone.splice(match, 1)[0];
      const angle = (Math.PI / 2) * ((voice.currentPan + 500) / 1000);
      const gain = (this.#core.midiChannels[voice.channel]?.currentGain ?? 0) * voice.gainModifier;
      this.#groups.push({
        voices: [voice, second],
        gainTargets: [targetOf(voice), second === undefined ? 0 : targetOf(second)],
        gainLeft: Math.fround(Math.cos(angle)) * gain,
        gainRight: Math.fround(Math.sin(angle)) * gain,
        isOpen: isOpen(voice),
      });
    }
    this.#isEven = this.#groups.every(({ gainLeft, gainRight }) => gainLeft === gainRight);
    return true;
  }

  #isCovered(voice: Voice): boolean {
    const { modulatedGenerators, loopingMode, filter } = voice;
    const channel = this.#core.midiChannels[voice.channel];
    const excursion = modulatedGenerators[GeneratorTypes.modEnvToFilterFc] as number;
    return (
      MUST_BE_ZERO.every((each) => modulatedGenerators[each] === 0) &&
      (loopingMode === 0 || loopingMode === 1) &&
      voice.portamentoFromKey === -1 &&
      voice.overridePan === 0 &&
      voice.currentPan === modulatedGenerators[GeneratorTypes.pan] &&
      channel !== undefined &&
      channel.currentPan === 0 &&
      // a filter left out for some blocks only would have to remember what it has not heard
      (filter.currentInitialFc <= OPEN_CENTS || (isOpen(voice) && excursion >= 0))
    );
  }

  /** Writes the next BLOCK_FRAMES of both channels from `offset` on; of the left one only where `isEven`. */
  process(left: Float32Array, right: Float32Array, offset: number): void {
    left.fill(0, offset, offset + BLOCK_FRAMES);
    if (!this.#isEven) right.fill(0, offset, offset + BLOCK_FRAMES);
    for (const group of this.#groups) {
      const { voices, gainLeft, gainRight } = group;
      if (!voices[0].isActive && voices[1]?.isActive !== true) continue;
      const { wavetable, tuningRatio } = voices[0];
      const goesOn = readHermite(wavetable, tuningRatio * wavetable.playbackStep, this.#read);
      if (this.#isEven || gainRight < NO_GAIN) this.#add(group, left, offset, gainLeft);
      else if (gainLeft < NO_GAIN) this.#add(group, right, offset, gainRight);
      else {
        this.#made.fill(0);
        this.#add(group, this.#made, 0, 1);
        addAt(left, offset, this.#made, gainLeft);
        addAt(right, offset, this.#made, gainRight);
      }
      if (!goesOn) for (const voice of voices) if (voice !== undefined) voice.isActive = false;
    }
    this.#core.currentTime += this.#blockSeconds;
  }

  /** Adds `#read` to `out` through each voice's filter and envelope. */
  #add({ voices: [first, second], gainTargets, isOpen: open }: Group, out: Float32Array, offset: number, gain: number) {
    if (first.isActive && second?.isActive === true && !open) {
      this.#aim(first);
      this.#aim(second);
      const before = first.volEnv.outputGain * gain;
      const secondBefore = second.volEnv.outputGain * gain;
      first.isActive = first.volEnv.process(BLOCK_FRAMES, gainTargets[0]);
      second.isActive = second.volEnv.process(BLOCK_FRAMES, gainTargets[1]);
      const after = first.volEnv.outputGain * gain;
      filterTwo(
        this.#read,
        out,
        offset,
        first.filter,
        before,
        after,
        second.filter,
        secondBefore,
        second.volEnv.outputGain * gain,
      );
      return;
    }
    this.#addAlone(first, gainTargets[0], open, out, offset, gain);
    if (second !== undefined) this.#addAlone(second, gainTargets[1], open, out, offset, gain);
  }

  #addAlone(voice: Voice, gainTarget: number, open: boolean, out: Float32Array, offset: number, gain: number): void {
    if (!voice.isActive) return;
    if (!open) this.#aim(voice);
    const before = voice.volEnv.outputGain * gain;
    voice.isActive = voice.volEnv.process(BLOCK_FRAMES, gainTarget);
    const after = voice.volEnv.outputGain * gain;
    if (open) addMoved(this.#read, out, offset, before, after);
    else filterOne(this.#read, out, offset, voice.filter, before, after);
  }

  /** Sets a filter to where the modulation envelope has it now; steps of a cent are not followed, as in the synthesizer. */
  #aim(voice: Voice): void {
    const { filter, modulatedGenerators } = voice;
    const depth = modulatedGenerators[GeneratorTypes.modEnvToFilterFc] as number;
    const excursion = depth === 0 ? 0 : voice.modEnv.process(voice, this.#core.currentTime) * depth;
    const target = filter.currentInitialFc + excursion;
    if (Math.abs(filter.lastTargetCutoff - target) <= 1) return;
    filter.lastTargetCutoff = target;
    filter.calculateCoefficients(target);
  }
}

function isOpen({ filter, modulatedGenerators }: Voice): boolean {
  return filter.currentInitialFc > OPEN_CENTS && modulatedGenerators[GeneratorTypes.initialFilterQ] === 0;
}

function readsAlike(one: Voice, other: Voice): boolean {
  const mine = one.wavetable;
  const theirs = other.wavetable;
  return (
    mine.sampleData === theirs.sampleData &&
    mine.cursor === theirs.cursor &&
    mine.playbackStep * one.tuningRatio === theirs.playbackStep * other.tuningRatio &&
    mine.isLooping === theirs.isLooping &&
    mine.loopEnd === theirs.loopEnd &&
    mine.loopLength === theirs.loopLength &&
    mine.end === theirs.end &&
    one.currentPan === other.currentPan &&
    one.gainModifier === other.gainModifier &&
    isOpen(one) === isOpen(other) &&
    one.filter.x1 === other.filter.x1 &&
    one.filter.x2 === other.filter.x2
  );
}

/** Attenuation as a gain, by whole centibels as the synthesizer's table has it. */
const gainOf = (centibels: number): number => Math.fround(10 ** (-Math.trunc(centibels) / 200));

function targetOf({ modulatedGenerators, resonanceOffset }: Voice): number {
  return gainOf(modulatedGenerators[GeneratorTypes.initialAttenuation] as number) * gainOf(-resonanceOffset);
}

/**
 * Reads on in a recording, between its samples by a cubic through four of them (Hermite). Where no border is near, none is
 * looked for.
 * @returns whether it goes on; after its end there is silence
 */
function readHermite(wavetable: Wavetable, step: number, out: Float64Array): boolean {
  const { sampleData: data, isLooping, loopEnd, loopLength, end } = wavetable;
  const border = isLooping ? loopEnd : end;
  let cursor = wavetable.cursor;
  let index = 0;
  while (index < BLOCK_FRAMES) {
    while (isLooping && cursor >= loopEnd) cursor -= loopLength;
    const clear = Math.min(BLOCK_FRAMES, index + Math.floor((border - 4 - cursor) / step)) | 0;
    for (; index < clear; index++) {
      const at = cursor | 0;
      const before = data[at] as number;
      const here = data[at + 1] as number;
      const next = data[at + 2] as number;
      out[index] = between(before, here, next, data[at + 3] as number, cursor - at);
      cursor += step;
    }
    if (index === BLOCK_FRAMES) break;
    while (isLooping && cursor >= loopEnd) cursor -= loopLength;
    const at = cursor | 0;
    if (!isLooping && at + 3 >= end) {
      out.fill(0, index);
      return false;
    }
    const sample = (place: number): number => {
      let inLoop = place;
      while (isLooping && inLoop >= loopEnd) inLoop -= loopLength;
      return data[inLoop] as number;
    };
    out[index++] = between(sample(at), sample(at + 1), sample(at + 2), sample(at + 3), cursor - at);
    cursor += step;
  }
  wavetable.cursor = cursor;
  return true;
}

function between(before: number, here: number, next: number, after: number, share: number): number {
  const slope = (next - before) * 0.5;
  const fall = here - next;
  const sum = slope + fall;
  const cubic = sum + fall + (after - here) * 0.5;
  return ((cubic * share - (sum + cubic)) * share + slope) * share + here;
}

/** Two filters on one input, each at a gain that moves: their recurrences run side by side. */
function filterTwo(
  read: Float64Array,
  out: Float32Array,
  offset: number,
  one: LowPass,
  oneBefore: number,
  oneAfter: number,
  two: LowPass,
  twoBefore: number,
  twoAfter: number,
): void {
  const { a0: f0, a3: f3, a4: f4 } = one;
  const { a0: g0, a3: g3, a4: g4 } = two;
  let { x1, x2, y1: f1, y2: f2 } = one;
  let { y1: g1, y2: g2 } = two;
  let fGain = oneBefore;
  let gGain = twoBefore;
  const fStep = (oneAfter - oneBefore) / BLOCK_FRAMES;
  const gStep = (twoAfter - twoBefore) / BLOCK_FRAMES;
  for (let index = 0; index < BLOCK_FRAMES; index++) {
    const x = read[index] as number;
    const input = x + 2 * x1 + x2;
    x2 = x1;
    x1 = x;
    const fNew = f0 * input - f4 * f2 - f3 * f1;
    const gNew = g0 * input - g4 * g2 - g3 * g1;
    f2 = f1;
    f1 = fNew;
    g2 = g1;
    g1 = gNew;
    out[offset + index] = (out[offset + index] as number) + (fNew * fGain + gNew * gGain);
    fGain += fStep;
    gGain += gStep;
  }
  one.x1 = two.x1 = x1;
  one.x2 = two.x2 = x2;
  one.y1 = f1;
  one.y2 = f2;
  two.y1 = g1;
  two.y2 = g2;
}

/** One filter, at a gain that moves. */
function filterOne(
  read: Float64Array,
  out: Float32Array,
  offset: number,
  filter: LowPass,
  before: number,
  after: number,
): void {
  const { a0, a3, a4 } = filter;
  let { x1, x2, y1, y2 } = filter;
  let gain = before;
  const step = (after - before) / BLOCK_FRAMES;
  for (let index = 0; index < BLOCK_FRAMES; index++) {
    const x = read[index] as number;
    const y = a0 * (x + 2 * x1 + x2) - a4 * y2 - a3 * y1;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    out[offset + index] = (out[offset + index] as number) + y * gain;
    gain += step;
  }
  filter.x1 = x1;
  filter.x2 = x2;
  filter.y1 = y1;
  filter.y2 = y2;
}

/** The recording itself, at a gain that moves. */
function addMoved(read: Float64Array, out: Float32Array, offset: number, before: number, after: number): void {
  const step = (after - before) / BLOCK_FRAMES;
  for (let index = 0; index < BLOCK_FRAMES; index++) {
    out[offset + index] = (out[offset + index] as number) + (read[index] as number) * (before + index * step);
  }
}

function addAt(side: Float32Array, offset: number, made: Float32Array, gain: number): void {
  for (let index = 0; index < BLOCK_FRAMES; index++) {
    side[offset + index] = (side[offset + index] as number) + (made[index] as number) * gain;
  }
}
