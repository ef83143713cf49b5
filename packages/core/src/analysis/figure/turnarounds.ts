import type { Cadence } from '../analysis.ts';
import type { ChordClass } from '../harmony/event.ts';
import { sameKey, slotsOf, type Line, type ReadEvent } from './read-event.ts';

/** Chords by place above the tonic, each with the classes it comes in. */
type Station = readonly (readonly [place: number, classes: string])[];

/**
 * The usual turnarounds, station by station: I vi ii V with what stands for each. Source: docs/sources.md, 7
 * (I vi ii V; iii vi ii V; III7 VI7 II7 V7; I VI7 ii V); the diminished, tritone and minor ones common practice.
 */
const STATIONS: readonly Station[] = [
  [
    [0, 'MTmDp'],
    [4, 'mDh'],
  ],
  [
    [9, 'mDh'],
    [1, 'o'],
    [3, 'oDM'],
  ],
  [
    [2, 'mDh'],
    [8, 'DM'],
  ],
  [
    [7, 'Ds+'],
    [1, 'DM'],
  ],
];

/** Two bars; twice that where each chord takes a bar. */
const MOST_BARS = 4;

function isAt(station: Station, chord: ReadEvent): boolean {
  const { chordClass } = chord.event;
  return station.some(([place, classes]) => place === chord.place && classes.includes(chordClass satisfies ChordClass));
}

/** Turnarounds: four chords of about one length that lead round to I, in two bars or four. */
export function turnaroundsIn({ chords }: Line): Cadence[] {
  const found: Cadence[] = [];
  for (let index = 0; index + STATIONS.length <= chords.length; index++) {
    const four = chords.slice(index, index + STATIONS.length);
    const [first] = four as [ReadEvent];
    if (!four.every((chord, at) => isAt(STATIONS[at] as Station, chord) && sameKey(chord, first))) continue;
    const lengths = four.map(({ event }) => event.endTicks - event.startTicks);
    const moving = lengths.slice(1);
    const last = four.at(-1) as ReadEvent;
    // the first chord may have been lying there: the three that move are of one length, within two bars or four
    if (Math.max(...moving) > 2 * Math.min(...moving)) continue;
    if (moving.reduce((sum, each) => sum + each, 0) > (MOST_BARS - 1) * last.event.barTicks) continue;
    found.push({
      kind: 'turnaround',
      key: first.reading.key,
      slots: slotsOf([{ ...first, event: { ...first.event, slots: first.event.slots.slice(-1) } }, ...four.slice(1)]),
    });
  }
  return found;
}
