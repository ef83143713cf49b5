/** What helps one practise beside the trio: room between the rounds, a plain beat, a demonstration that leaves time to answer. */

/** Beats a metronome gives: none, each one, or the second and fourth, where a jazz drummer's hi-hat is (common practice). */
export const METRONOMES = ['none', 'every beat', 'two and four'] as const;
export type Metronome = (typeof METRONOMES)[number];

/**
 * How the demonstration leaves time to answer: a phrase of it and then as long a silence as its next phrase would have taken, or two, four
 * or eight bars in turn ('trading fours', common practice). The next time through the roles are changed.
 */
export const ANSWERS = ['none', 'phrases', 'twos', 'fours', 'eights'] as const;
export type Answers = (typeof ANSWERS)[number];

export interface PracticeAids {
  /** Empty bars between one chorus and the next, and between the rounds of bars that are played again and again. */
  readonly restBars: number;
  readonly metronome: Metronome;
  readonly answers: Answers;
}

export const MOST_REST_BARS = 4;

/** The trio and nothing else. */
export const NO_AIDS: PracticeAids = { restBars: 0, metronome: 'none', answers: 'none' };
