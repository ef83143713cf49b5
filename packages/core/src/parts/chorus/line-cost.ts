import type { ByLevel } from './level.ts';
import type { Standing } from './key-place.ts';

/** All costs are integers: they decide which line is played, alike on every machine. Ten is about one good reason. */

/**
 * A motion of 0 … 12 semitones inside a phrase: six times the binary logarithm of how much rarer it is than the commonest
 * one, rounded; a repeated key half as much again, a whole step and a major third a little more, as they are easy under five fingers. Source: interval
 * shares of the Weimar data package (4.6 27.6 28.6 17.4 9.1 6.4 1.5 2.1 .9 .8 .4 .2 .3 %; C).
 * Six and not more, because five fingers hold few half steps and a line should still leap.
 */
export const MOTION_COST = [26, 0, 2, 4, 12, 13, 26, 23, 30, 31, 37, 43, 39] as const;
/** A wider motion, for each semitone beyond the octave, on top of the octave's. */
export const BEYOND_OCTAVE_COST = 20;

/** What a note costs by where it stands. Our own, leaning on: chord tones are a little commoner on the beat (C). */
export const STANDING_COST: Readonly<Record<'strong' | 'on beat' | 'off beat', Readonly<Record<Standing, number>>>> = {
  strong: { 'guide tone': 0, 'chord tone': 5, tension: 12, 'outside note': 16, 'avoid note': 30, neighbour: 60 },
  'on beat': { 'guide tone': 0, 'chord tone': 2, tension: 7, 'outside note': 9, 'avoid note': 18, neighbour: 60 },
  'off beat': { 'guide tone': 2, 'chord tone': 2, tension: 0, 'outside note': 3, 'avoid note': 2, neighbour: 0 },
};

export const LINE_COST = {
  /** A new chord begins on something else than its guide tone. */
  missedTarget: 10,
  /** … and is not entered by step. */
  enteredByLeap: 5,
  /** The last note of an outside chord-scale does not lie a step from a guide tone of the chord that comes inside. */
  leftAstray: 240,
  /** An avoid note that lasts longer than an eighth before it goes. */
  longRub: 26,
  /** An avoid note that goes by a whole step, where the ear waits for the half step. */
  wideWayOut: 14,
  /** A diminished chord's major seventh on a strong beat: it denies the root that has just moved there. */
  deniedRoot: 24,
  /** A half step over the bass's ground on a strong beat, where the symbol does not write it: a minor ninth. */
  rubsTheBass: 12,
  /** The note before last again: A B A. */
  swayed: 12,
  /** The note before the last two again: A B C A. */
  circled: 4,
  /** A B A B. */
  trill: 60,
  /** A half turn at every note: up, down, up. */
  zigzag: 3,
  /** Going on the same way after a fourth or more. */
  leapNotFilled: 9,
  /** A finger's breadth away from where the contour wants the hand. */
  offContour: 10,
  /** Another finger move than the motive's. */
  notTheMotive: 34,
  /** Three intervals that were heard before, where no motive asks for them. */
  heardBefore: 7,
  /** No chromatic neighbour where one is wished. */
  noNeighbour: 14,
  /** One finger on two keys running, without a new position between. */
  sameFinger: 14,
  /** The phrase's first note, a semitone away from where the last phrase ended, beyond a fifth. */
  farStart: 2,
  /** … and beyond an octave, on top. */
  veryFarStart: 6,
  /** A last note that does not close an answer or leave a question open, or that repeats the note before. */
  weakEnd: 16,
} as const;

/** What an anticipation costs where the note could as well belong to the chord that is leaving. */
export const ANTICIPATION_COST: ByLevel = [14, 8, 0, -8];

/** The whim of the moment: every key of every note gets 0 … this at random. Freer lines have more of it. */
export const WHIM: ByLevel = [12, 16, 20, 20];
