import type { HandSide } from '../hand/index.ts';

/** A key that was struck. Times count from the start of the record, which is not yet the start of bar 1. */
export interface TakeNote {
  readonly startMicros: number;
  readonly durationMicros: number;
  /** MIDI number of the key. */
  readonly key: number;
  /** 1 to 127. */
  readonly velocity: number;
  /** From 0. */
  readonly channel: number;
}

/** The sustain pedal, as it moved. */
export interface TakePedal {
  readonly atMicros: number;
  /** 0 to 127; from 64 on it is down. Source: MIDI 1.0, controller 64. */
  readonly value: number;
  readonly channel: number;
}

/** What was running while it was played. */
export interface TakeProgramme {
  /** Beats a minute of the chart's metre. */
  readonly tempoBpm: number;
  /** As in `Eb major`; null for the key the chart is written in. */
  readonly key: string | null;
  /** Whole bars of clicks before bar 1. */
  readonly countInBars: number;
  /** Whether there was a click or a band to play to; without one the tempo is found from the notes. */
  readonly isToClick: boolean;
}

/** A take as it is kept. The lesson is kept with it as it was then: a chart that is edited later judges nobody anew. */
export interface Take {
  /** The music engine that made the lesson. */
  readonly engine: number;
  /** Which lesson, and which state of it. */
  readonly lesson: string;
  readonly edition: number;
  /** The lesson document as played: chart and choices, as `writeLessonDocument` has it. */
  readonly document: string;
  readonly programme: TakeProgramme;
  /** Where bar 1 begins, the delay of keyboard and sound taken out. */
  readonly barOneMicros: number;
  /** The delay that was taken out. */
  readonly delayMs: number;
  /** In order of time. */
  readonly notes: readonly TakeNote[];
  readonly pedals: readonly TakePedal[];
}

/** A note ready to be judged: seconds from the beginning of bar 1 (a pickup's are negative), and whose hand. */
export interface HeardNote {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly key: number;
  readonly velocity: number;
  readonly hand: HandSide;
}

/** A figure with how sure it is, 0 to 1; null where there is too little to say. */
export interface Measured {
  readonly value: number;
  readonly sure: number;
}
