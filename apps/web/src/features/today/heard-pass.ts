/** One pass through the bars as it was heard: chord by chord what was struck, and whether that is clean by the criterion shown. */
import type { PassAnswer } from './ladder.ts';

/** When a pass counts as clean. Shown, and to be changed. */
export interface Criterion {
  /** Of a hundred chords, so many at least must have been met: something of what the hand may play was struck in them. */
  readonly metPercent: number;
  /** Of a hundred keys struck, so many at most may lie outside. */
  readonly outsidePercent: number;
}

export interface HeardPass {
  /** Chords that went by with something to play. */
  readonly chords: number;
  readonly met: number;
  readonly struck: number;
  readonly outside: number;
  /** The chord that sounds now; null before the first and over a rest. */
  readonly now: { readonly id: string; readonly isMet: boolean } | null;
  /** The chord before, for a key that comes within the delay that is taken off. */
  readonly before: { readonly id: string; readonly isMet: boolean } | null;
}

export const NEW_PASS: HeardPass = { chords: 0, met: 0, struck: 0, outside: 0, now: null, before: null };

/**
 * A chord begins.
 * @param id of its place in the form and the time through; null where nothing is to be played
 */
export function chordBegins(pass: HeardPass, id: string | null): HeardPass {
  if (id === pass.now?.id) return pass;
  const now = id === null ? null : { id, isMet: false };
  return { ...pass, chords: pass.chords + (id === null ? 0 : 1), now, before: pass.now };
}

/**
 * A key is struck.
 * @param isMeant whether it is in what is to be played over the chord it belongs to; null where nothing is to be played
 * @param isLate whether it belongs to the chord before: it came within the delay after the change
 */
export function keyStruck(pass: HeardPass, isMeant: boolean | null, isLate = false): HeardPass {
  const which = isLate && pass.before !== null ? 'before' : 'now';
  const chord = pass[which];
  if (chord === null || isMeant === null) return pass;
  return {
    ...pass,
    struck: pass.struck + 1,
    outside: pass.outside + (isMeant ? 0 : 1),
    met: pass.met + (isMeant && !chord.isMet ? 1 : 0),
    [which]: { ...chord, isMet: chord.isMet || isMeant },
  };
}

/** What the pass was; null where nothing was heard at all: then only the player knows. */
export function answerOf({ chords, met, struck, outside }: HeardPass, criterion: Criterion): PassAnswer | null {
  if (struck === 0 || chords === 0) return null;
  const isMet = met * 100 >= criterion.metPercent * chords;
  return isMet && outside * 100 <= criterion.outsidePercent * struck ? 'clean' : 'not yet';
}
