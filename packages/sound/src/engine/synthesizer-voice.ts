/*
 * What we need of the synthesizer beyond its public face: the clock (so that every note is rendered from time 0 and comes
 * out the same whatever was rendered before), what its modulators made of a note's generators, and the parts of a voice
 * (`note-voices.ts`). The version is pinned; `checks/sound/notes.test.ts` fails if these move.
 */

/** A voice's reader of its recording. */
export interface Wavetable {
  readonly sampleData: Float32Array;
  readonly playbackStep: number;
  readonly isLooping: boolean;
  readonly loopEnd: number;
  readonly loopLength: number;
  readonly end: number;
  /** Where it reads next, in the recording's frames. */
  cursor: number;
}

/** A low-pass of two poles. Its coefficients belong to the cutoff and resonance it was last asked for. */
export interface LowPass {
  readonly constructor: LowPassClass;
  /** Of the input: 1, 2 and 1 times this. */
  readonly a0: number;
  /** Of the last output, and of the one before it. */
  readonly a3: number;
  readonly a4: number;
  x1: number;
  x2: number;
  y1: number;
  y2: number;
  /** Absolute cents. */
  readonly currentInitialFc: number;
  lastTargetCutoff: number;
  readonly resonanceCb: number;
  calculateCoefficients(cutoffCents: number): void;
}

export interface LowPassClass {
  readonly cachedCoefficients: Map<number, unknown>;
  initCache(sampleRate: number): void;
}

export interface Voice {
  isActive: boolean;
  readonly channel: number;
  /** As they stand in the bank, and as velocity, key and controllers made them. */
  readonly generators: Int16Array;
  readonly modulatedGenerators: Int16Array;
  readonly exclusiveClass: number;
  /** 0: once through; 1: the loop without end. */
  readonly loopingMode: number;
  /** −1: no glide. */
  readonly portamentoFromKey: number;
  /** 0: the pan of the generators. */
  readonly overridePan: number;
  readonly currentPan: number;
  readonly gainModifier: number;
  readonly resonanceOffset: number;
  /** Known after the first block. */
  readonly tuningRatio: number;
  readonly wavetable: Wavetable;
  readonly filter: LowPass;
  readonly volEnv: { readonly outputGain: number; process(sampleCount: number, gainTarget: number): boolean };
  readonly modEnv: { process(voice: Voice, seconds: number): number };
}

export interface Channel {
  readonly currentGain: number;
  readonly currentPan: number;
  stopAllNotes(force: boolean): void;
}

export interface SynthesizerCore {
  readonly voices: readonly Voice[];
  readonly midiChannels: readonly Channel[];
  currentTime: number;
}
