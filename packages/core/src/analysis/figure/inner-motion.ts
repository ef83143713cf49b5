import { classesOf, pitchClassOf, setOfChord } from '../../theory/index.ts';
import type { Cadence } from '../analysis.ts';
import { slotsOf, type Line, type ReadEvent } from './read-event.ts';

/** Passing and auxiliary diminished chords, each with its neighbours. */
export function diminishedIn({ chords }: Line): Cadence[] {
  return chords.flatMap((chord, index): Cadence[] => {
    const { role, key } = chord.reading;
    if (role !== 'passing diminished' && role !== 'auxiliary diminished') return [];
    const kind = role === 'passing diminished' ? 'diminished passing' : 'diminished auxiliary';
    return [{ kind, key, slots: slotsOf(chords.slice(Math.max(0, index - 1), index + 2)) }];
  });
}

/** A line that moves by half steps needs three notes to be heard as one. */
const SHORTEST_LINE = 3;

/** Pitch classes of a chord, its written bass with them. */
function classesOfChord({ event }: ReadEvent): readonly number[] {
  const bass = event.chord.bass === null ? [] : [pitchClassOf(event.chord.bass)];
  return [...classesOf(setOfChord(event.chord)), ...bass];
}

/** How many chords from `from` hold a line that moves by `step` half steps at a time, over one root. */
function lengthOfLine(chords: readonly ReadEvent[], from: number, step: 1 | -1): number {
  const first = chords[from] as ReadEvent;
  let longest = 0;
  for (const start of classesOfChord(first)) {
    let length = 1;
    for (let index = from + 1; index < chords.length; index++) {
      const chord = chords[index] as ReadEvent;
      const note = (start + step * length + 120) % 12;
      if (chord.event.root !== first.event.root || !classesOfChord(chord).includes(note)) break;
      length++;
    }
    longest = Math.max(longest, length);
  }
  return longest;
}

/** Line clichés: one root held while a line moves by half steps (Cm Cm(maj7) Cm7 Cm6; C C+ C6 C7). */
export function lineClichesIn({ chords }: Line): Cadence[] {
  const found: Cadence[] = [];
  for (let index = 0; index + SHORTEST_LINE <= chords.length;) {
    const length = Math.max(lengthOfLine(chords, index, -1), lengthOfLine(chords, index, 1));
    if (length < SHORTEST_LINE) {
      index++;
      continue;
    }
    const { key } = (chords[index] as ReadEvent).reading;
    found.push({ kind: 'line cliche', key, slots: slotsOf(chords.slice(index, index + length)) });
    // the last chord may begin the line's way back
    index += length - 1;
  }
  return found;
}
