import { degree, degreeOnStep, formatKey } from '../../theory/index.ts';
import type { Cadence, Reading, Role } from '../analysis.ts';
import { slotsOf, type Line, type ReadEvent } from './read-event.ts';

/** A chord rests as a mode from this many bars on. Common practice in modal tunes: eight bars to a mode. */
const MODAL_BARS = 8;
/** So many chords of one kind make a run. */
const SHORTEST_RUN = 3;

/** Roles of chords that the key alone does not explain. */
const FOREIGN: ReadonlySet<Role> = new Set(['unexplained', 'borrowed']);

const SHARP_ELEVENTH = degree('#11');

const barsOf = ({ event }: ReadEvent): number => (event.endTicks - event.startTicks) / event.barTicks;

/** Whether a chord is one that modal tunes rest on: m7, a suspended chord, a major with #11, a dominant nothing answers (a blues' I7 is home). */
function mayRest({ event, chosen }: ReadEvent): boolean {
  switch (event.chordClass) {
    case 'm':
    case 's':
      return true;
    case 'M':
    case 'T':
      return event.chord.degrees.includes(SHARP_ELEVENTH);
    case 'D':
      return !chosen.isHome && (chosen.target === null || chosen.debt > 0);
    case 'h':
    case 'o':
    case '+':
    case 'p':
      return false;
    default:
      return event.chordClass satisfies never;
  }
}

/** Chords from `from` on that belong to one resting stretch: one long chord, or two that swing to and fro. */
function restingFrom(chords: readonly ReadEvent[], from: number): number {
  const [first, second] = [chords[from], chords[from + 1]];
  if (first === undefined) return from;
  // a I7 for eight bars is a blues of double length, for more a mode
  const isLongHome = first.event.chordClass === 'D' && first.chosen.isHome && barsOf(first) > MODAL_BARS;
  if (isLongHome || (mayRest(first) && barsOf(first) >= MODAL_BARS)) return from + 1;
  if (!mayRest(first)) return from;
  if (second === undefined || !mayRest(second)) return from;
  const step = (second.event.root - first.event.root + 12) % 12;
  // a fourth apart is a ii–V or a blues, not a vamp
  if (step === 5 || step === 7 || step === 0) return from;
  let to = from;
  let bars = 0;
  while (
    to < chords.length &&
    (chords[to] as ReadEvent).event.chord.symbol === ((to - from) % 2 === 0 ? first : second).event.chord.symbol
  ) {
    bars += barsOf(chords[to] as ReadEvent);
    to++;
  }
  return to - from >= 4 && bars >= MODAL_BARS ? to : from;
}

/** Whether a run of chords moves one kind of chord about: same suffix, other roots, not all of one key, no cadence. */
function constantRunFrom(chords: readonly ReadEvent[], from: number): number {
  const first = chords[from] as ReadEvent;
  const { chordClass, chord } = first.event;
  if (chordClass === 'o' || chordClass === 'h') return from;
  let to = from + 1;
  while (to < chords.length && (chords[to] as ReadEvent).event.chord.suffix === chord.suffix) to++;
  const run = chords.slice(from, to);
  if (run.length < SHORTEST_RUN) return from;
  // three roots and a seventh: two chords to and fro are a vamp, triads in a row are none
  const hasSeventh = degreeOnStep(first.event.sounding, 6) !== undefined;
  if (!hasSeventh || new Set(run.map(({ event }) => event.root)).size < SHORTEST_RUN) return from;
  const isForeign = ({ reading }: ReadEvent): boolean => FOREIGN.has(reading.role);
  const isChain = chordClass === 'D' && run.some(({ chosen }) => chosen.target !== null && chosen.debt === 0);
  const keys = new Set(run.map(({ reading }) => formatKey(reading.key)));
  return !isChain && (run.some(isForeign) || keys.size >= SHORTEST_RUN) ? to : from;
}

/** Stretches found by going from left to right, each as long as it goes. */
function stretches(
  chords: readonly ReadEvent[],
  endOf: (chords: readonly ReadEvent[], from: number) => number,
): ReadEvent[][] {
  const found: ReadEvent[][] = [];
  for (let index = 0; index < chords.length;) {
    const to = endOf(chords, index);
    if (to > index) found.push(chords.slice(index, to));
    index = Math.max(to, index + 1);
  }
  return found;
}

function asCadence(kind: Cadence['kind'], run: readonly ReadEvent[]): Cadence {
  return { kind, key: (run[0] as ReadEvent).reading.key, slots: slotsOf(run) };
}

/** What modal stretches, constant-structure runs and modal interchange make of a line, and the readings they change. */
export function stretchesIn({ chords }: Line): { cadences: Cadence[]; changed: ReadonlyMap<ReadEvent, Reading> } {
  const changed = new Map<ReadEvent, Reading>();
  const modal = stretches(chords, restingFrom);
  for (const run of modal) {
    for (const chord of run) {
      const { reading, event } = chord;
      const args = { ...reading.reason.args, mode: event.chord.symbol };
      changed.set(chord, {
        ...reading,
        role: 'modal',
        target: null,
        targetMode: null,
        reason: { code: 'modal', args },
      });
    }
  }
  const constant = stretches(chords, constantRunFrom).filter((run) => run.every((chord) => !changed.has(chord)));
  for (const run of constant) {
    for (const chord of run) {
      const { reading } = chord;
      if (!FOREIGN.has(reading.role)) continue;
      changed.set(chord, {
        ...reading,
        role: 'constant structure',
        reason: { code: 'constant-structure', args: reading.reason.args },
      });
    }
  }
  const isLent = (chord: ReadEvent): boolean => chord.reading.role === 'borrowed' && !changed.has(chord);
  const lent = stretches(chords, (all, from) => {
    let to = from;
    while (to < all.length && isLent(all[to] as ReadEvent)) to++;
    return to;
  });
  return {
    cadences: [
      ...modal.map((run) => asCadence('modal stretch', run)),
      ...constant.map((run) => asCadence('constant structure', run)),
      ...lent.map((run) => asCadence('modal interchange', run)),
    ],
    changed,
  };
}
