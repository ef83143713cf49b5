import { formatKey, noteAbove, type Key } from '../../theory/index.ts';
import type { Reading } from '../analysis.ts';
import type { HarmonicEvent } from './event.ts';
import type { HarmonicFunction } from './harmonic-function.ts';
import { keyIndexOf } from './key-spelling.ts';
import { degreeOfPlace, formatNumeral, romanOfTarget } from './numeral.ts';

/** Semitones of an event's root above a key's tonic. */
export function placeIn(event: HarmonicEvent, key: Key): number {
  return (event.root - (keyIndexOf(key) % 12) + 12) % 12;
}

/**
 * One reading of a chord, spelled.
 * @param next the chord it leads to, whose symbol the reason names where the goal is no degree
 */
export function readingOf(event: HarmonicEvent, key: Key, chosen: HarmonicFunction, next: HarmonicEvent): Reading {
  const place = placeIn(event, key);
  const { target, targetMode, goalCase, role, code } = chosen;
  const leadsToNext = role === 'passing diminished' || role === 'auxiliary diminished';
  const goal = leadsToNext ? next.chord.symbol : target === null ? '' : romanOfTarget(target, goalCase ?? targetMode);
  const parallel: Key = { tonic: key.tonic, mode: key.mode === 'major' ? 'minor' : 'major' };
  return {
    key,
    numeral: formatNumeral(event, place, chosen),
    role,
    reason: {
      code,
      args: {
        chord: event.chord.symbol,
        key: formatKey(key),
        ...(goal === '' ? {} : { goal }),
        ...(code === 'borrowed' ? { other: formatKey(parallel) } : {}),
      },
    },
    target: target === null ? null : noteAbove(key.tonic, degreeOfPlace(target)),
    targetMode,
  };
}

/** The reading of a place where nobody plays a chord. */
export function silenceIn(key: Key): Reading {
  return { key, numeral: '', role: 'none', reason: { code: 'silence', args: {} }, target: null, targetMode: null };
}
