import type { Drum, DrumStroke, DrumStress } from '../../parts/index.ts';

/** A line note as its loudness depends on it. */
export interface LineMoment {
  readonly midi: number;
  readonly isOffBeat: boolean;
  /** Place in its phrase, from 0, and how many notes that has. */
  readonly index: number;
  readonly count: number;
  /** Lower than both its neighbours in the phrase. */
  readonly isValley: boolean;
  /** The phrase's highest note. */
  readonly isPeak: boolean;
}

/** MIDI velocities. Our own, from memory of how a trio balances. */
const LINE = { base: 78, offBeat: 5, peak: 8, phraseStart: 3, phraseEnd: -10, ghosted: -22, rise: 6 } as const;
const BASS = { base: 76, backbeat: 6, downbeat: 2 } as const;
const CHORD = { short: 62, long: 55, push: 5 } as const;

/** Louder by this from one chorus to the next, up to so much. Our own. */
const GROWTH_A_CHORUS = 4;
const MOST_GROWTH = 16;

/**
 * Velocities of the drums by stress. Set about the medians of the Groove MIDI Dataset's jazz takes (Gillick and others 2019, CC BY
 * 4.0): bass drum 38 to 48, snare 23 to 43, ride 51 to 91, pedal hi-hat 82 to 90.
 */
const STRESS: Readonly<Record<DrumStress, number>> = { feathered: 34, ghosted: 34, soft: 52, plain: 72, accented: 82 };
/** The crash of the bank is 9 dB louder than its ride, struck alike (measured): struck softer. */
const DRUM_MORE: Partial<Readonly<Record<Drum, number>>> = { 'pedal hi-hat': 10, sticks: 6, crash: -14, swirl: 8 };

/** How much louder the band is in its n-th chorus, from 0. */
export function growthOf(chorus: number): number {
  return Math.min(MOST_GROWTH, chorus * GROWTH_A_CHORUS);
}

/**
 * A right-hand note: off-beats carry, the phrase rises to its peak and falls away, notes in a valley may be ghosted.
 * @param isGhosted whether the player swallows it; only a valley is
 */
export function lineVelocity(moment: LineMoment, isGhosted: boolean): number {
  const { index, count, isOffBeat, isPeak, isValley } = moment;
  if (isGhosted && isValley) return LINE.base + LINE.ghosted;
  const middle = (count - 1) / 2;
  // a shallow arch over the phrase, in whole steps
  const arch = middle === 0 ? 0 : Math.round(LINE.rise * (1 - Math.abs(index - middle) / middle));
  return (
    LINE.base +
    arch +
    (isOffBeat ? LINE.offBeat : 0) +
    (isPeak ? LINE.peak : 0) +
    (index === 0 ? LINE.phraseStart : 0) +
    (index === count - 1 ? LINE.phraseEnd : 0)
  );
}

/** A bass note by its beat in the bar, from 0. Two and four lean forward. Common practice. */
export function bassVelocity(beat: number, beats: number): number {
  const isBackbeat = beats % 2 === 0 ? beat % 2 === 1 : beat !== 0;
  return BASS.base + (beat === 0 ? BASS.downbeat : isBackbeat ? BASS.backbeat : 0);
}

/** A comped chord: short ones bite, held ones lie beneath, pushes lean in. */
export function chordVelocity(isShort: boolean, isPush: boolean): number {
  return (isShort ? CHORD.short : CHORD.long) + (isPush ? CHORD.push : 0);
}

/** A drum stroke. */
export function drumVelocity({ drum, stress }: DrumStroke): number {
  return STRESS[stress] + (DRUM_MORE[drum] ?? 0);
}
