import type { Cadence } from '../analysis.ts';
import { varies } from '../harmony/event.ts';
import { isTwoClass, slotsOf, type Line, type ReadEvent } from './read-event.ts';

/** A chain is called extended from this many dominants on. Common practice: two are only V of V. */
const FEWEST_DOMINANTS = 3;

const isSeventh = (chord: ReadEvent): boolean =>
  chord.event.chordClass === 'D' || chord.event.chordClass === '+' || chord.event.chordClass === 's';

/** Whether one dominant leads straight to the other: down a fifth, or down a half step as its substitute. */
function leads(from: ReadEvent, to: ReadEvent): boolean {
  const up = (to.event.root - from.event.root + 12) % 12;
  return up === 5 || up === 11;
}

/** Dominants of dominants, three or more, each with its own ii before it or not (D7 Dm7 G7 …). A I7 at home ends a chain. */
export function dominantChainsIn({ chords }: Line): Cadence[] {
  const found: Cadence[] = [];
  let chain: ReadEvent[] = [];
  let dominants: ReadEvent[] = [];
  const close = (): void => {
    const last = dominants.at(-1);
    // a ii without its dominant is no part of the chain
    while (chain.length > 0 && chain.at(-1) !== last) chain.pop();
    if (dominants.length >= FEWEST_DOMINANTS && last !== undefined) {
      found.push({ kind: 'extended dominants', key: last.reading.key, slots: slotsOf(chain) });
    }
    chain = [];
    dominants = [];
  };
  for (const chord of chords) {
    const last = dominants.at(-1);
    if (isSeventh(chord) && !chord.chosen.isHome) {
      if (last !== undefined && varies(last.event, chord.event)) {
        chain.push(chord);
        dominants[dominants.length - 1] = chord;
        continue;
      }
      if (last !== undefined && !leads(last, chord)) close();
      chain.push(chord);
      dominants.push(chord);
    } else if (last !== undefined && isTwoClass(chord) && chord.event.root === last.event.root) {
      chain.push(chord);
    } else {
      close();
    }
  }
  close();
  return found;
}
