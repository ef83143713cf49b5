import type { Chord, ChordSymbol } from './chord.ts';
import { isWritableOn, respelledChord } from './chord-symbol.ts';
import type { Degree } from './degree.ts';
import { HIGHEST_FIFTHS, LOWEST_FIFTHS, type NoteName } from './note-name.ts';

/** Twelve fifths on: the same key on the keyboard, spelled the other way round. */
const ENHARMONIC_FIFTHS = 12;

/** A root moved by an interval; where the chord could not be written there, on the other spelling of the same key. */
function movedRoot(chord: Chord, interval: Degree): NoteName {
  const exact = chord.root + interval;
  const spellings = [exact, exact - ENHARMONIC_FIFTHS, exact + ENHARMONIC_FIFTHS];
  return (spellings.find((each) => isWritableOn(each, chord.degrees)) ?? exact) as NoteName;
}

/**
 * A chord moved up by an interval, exactly; its root moves to the other spelling where it would need two accidentals
 * or one of its notes three, and its notes follow. A written bass goes along with its chord.
 * @example transposeChord(chord('G7'), degree('b5')).symbol // → 'Db7'
 */
export function transposeChord(chord: ChordSymbol, interval: Degree): ChordSymbol {
  if (chord.kind === 'no chord') return chord;
  const root = movedRoot(chord, interval);
  if (chord.bass === null) return respelledChord(chord, root, null);
  let bass = chord.bass + (root - chord.root);
  if (bass < LOWEST_FIFTHS) bass += ENHARMONIC_FIFTHS;
  if (bass > HIGHEST_FIFTHS) bass -= ENHARMONIC_FIFTHS;
  return respelledChord(chord, root, bass as NoteName);
}
