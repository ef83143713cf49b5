import { GeneratorTypes } from 'spessasynth_core';
import type { Voice } from './synthesizer-voice.ts';

/** What a note's velocity and key come to in its loudest voice. */
export interface NoteTraits {
  /** Centibels below full. */
  readonly attenuationCentibels: number;
  /** Frames in which the release falls by 96 dB. */
  readonly releaseFrames: number;
  /** Notes of one class other than 0 silence each other: open and closed hi-hat. */
  readonly exclusiveClass: number;
}

/** A voice of a struck note, before it has sounded. */
interface StruckVoice {
  readonly sample: Float32Array;
  /** As they stand in the bank. */
  readonly generators: Int16Array;
  /** As velocity and key made them. */
  readonly modulated: Int16Array;
}

/** What the synthesizer makes of a note. */
export interface Struck {
  readonly velocity: number;
  readonly traits: NoteTraits;
  readonly voices: readonly StruckVoice[];
}

/** The synthesizer's own floor: 2^(-7200/1200) s. */
const SHORTEST_RELEASE_TIMECENTS = -7200;

const attenuationOf = (generators: Int16Array | undefined): number =>
  generators?.[GeneratorTypes.initialAttenuation] ?? 0;

/** A note by the voices that it struck. Undefined where there is none. */
export function struckOf(velocity: number, voices: readonly Voice[], sampleRate: number): Struck | undefined {
  const [first, ...others] = voices;
  if (first === undefined) return undefined;
  const attenuation = ({ modulatedGenerators }: Voice): number => attenuationOf(modulatedGenerators);
  const loudest = others.reduce((most, each) => (attenuation(each) < attenuation(most) ? each : most), first);
  const timecents = Math.max(
    SHORTEST_RELEASE_TIMECENTS,
    loudest.modulatedGenerators[GeneratorTypes.releaseVolEnv] ?? 0,
  );
  return {
    velocity,
    traits: {
      attenuationCentibels: attenuation(loudest),
      releaseFrames: Math.max(1, Math.floor(2 ** (timecents / 1200) * sampleRate)),
      exclusiveClass: loudest.exclusiveClass,
    },
    voices: voices.map(({ wavetable, generators, modulatedGenerators }) => ({
      sample: wavetable.sampleData,
      generators: generators.slice(),
      modulated: modulatedGenerators.slice(),
    })),
  };
}

/** Whether two notes on one key have the same recordings with the same settings in the bank. */
export function hasSameZones(one: Struck, other: Struck): boolean {
  return (
    one.voices.length === other.voices.length &&
    one.voices.every(({ sample, generators }, voice) => {
      const theirs = other.voices[voice] as StruckVoice;
      return sample === theirs.sample && generators.every((value, index) => value === theirs.generators[index]);
    })
  );
}

/** Whether two notes on one key differ in nothing but how loud they are as a whole. */
export function isOnlyLouder(one: Struck, other: Struck): boolean {
  const louder = attenuationOf(one.voices[0]?.modulated) - attenuationOf(other.voices[0]?.modulated);
  return (
    one.voices.length === other.voices.length &&
    one.voices.every(({ sample, modulated }, voice) => {
      const theirs = other.voices[voice] as StruckVoice;
      return (
        sample === theirs.sample &&
        modulated.every((value, index) => {
          const wanted = theirs.modulated[index] as number;
          return value === (index === GeneratorTypes.initialAttenuation ? wanted + louder : wanted);
        })
      );
    })
  );
}
