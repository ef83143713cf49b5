import { describe, expect, test } from 'vitest';
import {
  CHORD_KINDS_BY_SYMBOL,
  formatKey,
  formatNoteName,
  parseKey,
  pitchClass,
  readChordSymbol,
  spellingsOf,
  type Chord,
  type Key,
} from '../../theory/index.ts';
import type { Reading } from '../analysis.ts';
import { chordScalesFor } from './ladder.ts';

/** Every root that can be written, F flat to B sharp, and every key with at most seven accidentals. */
const ROOTS = Array.from({ length: 12 }, (_, each) => spellingsOf(pitchClass(each), 1)).flat();
const KEYS: readonly Key[] = ['major', 'minor'].flatMap((mode) =>
  ROOTS.flatMap((root) => parseKey(`${formatNoteName(root)} ${mode}`) ?? []),
);

function readingIn(key: Key): Reading {
  const reason = { code: 'none', args: {} };
  return { key, numeral: '', role: 'unexplained', reason, target: null, targetMode: null };
}

describe('a written bass', () => {
  test('there are as many roots and keys as can be written', () => {
    expect(ROOTS).toHaveLength(21);
    expect(KEYS).toHaveLength(30);
  });

  test('of any sound, in its furthest spelling, under every kind of chord on every root, leaves the ladder standing', () => {
    let made = 0;
    let index = 0;
    for (const kind of CHORD_KINDS_BY_SYMBOL) {
      for (const root of ROOTS) {
        for (let bass = 0; bass < 12; bass++) {
          index++;
          // keys take turns: thirty of them and twelve basses, so that each meets each
          const key = KEYS[(index + Math.floor(index / 12)) % KEYS.length] as Key;
          const spelled = spellingsOf(pitchClass(bass), 2).at(-1 - (index % 2));
          if (spelled === undefined) throw new Error('no spelling');
          const symbol = `${formatNoteName(root)}${kind.suffix}/${formatNoteName(spelled)}`;
          const read = readChordSymbol(symbol);
          // a note with three accidentals is refused, with the other spelling of the root
          if (!read.ok) continue;
          made++;
          const [first] = chordScalesFor(read.value as Chord, readingIn(key));
          if (first?.inside !== true) throw new Error(`${symbol} in ${formatKey(key)}: the first rung is not inside`);
        }
      }
    }
    expect(made).toBeGreaterThan(11_000);
  });
});
