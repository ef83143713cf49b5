import { surroundingsOf, type HarmonicEvent } from './event.ts';
import { functionsIn, isTonicMinor, type HarmonicFunction } from './harmonic-function.ts';
import { HOME_COUNT, KEY_COSTS, modeOfKeyIndex, type KeyCosts } from './key-costs.ts';

/** Everything a search needs, made once for a chart: for each event and key, what the chord may do there. */
export interface Ground {
  readonly events: readonly HarmonicEvent[];
  /** By event, then by key (0 to 35). Empty where a teacher's pins rule the key out. */
  readonly functions: readonly (readonly (readonly HarmonicFunction[])[])[];
  /** The first event that still sounds in the last two bars. */
  readonly closing: number;
  readonly costs: KeyCosts;
}

function closingOf(events: readonly HarmonicEvent[]): number {
  const last = events.at(-1);
  if (last === undefined) return 0;
  const from = last.endTicks - 2 * last.barTicks;
  return events.findIndex((event) => event.endTicks > from);
}

/** The ground for a chart's events, before any pin. */
export function groundOf(events: readonly HarmonicEvent[], costs: KeyCosts = KEY_COSTS): Ground {
  const around = surroundingsOf(events);
  // what a chord may do depends on a small shape only: most of a long chart is found here again
  const known = new Map<string, readonly HarmonicFunction[]>();
  const functions = events.map((event, index) => {
    const surroundings = around[index];
    if (surroundings === undefined) throw new RangeError('every event has surroundings');
    const { next, afterNext, previous, toNext, toAfterNext, toPrevious, toNextBass } = surroundings;
    const shape = [
      event.chordClass + next.chordClass + afterNext.chordClass + previous.chordClass,
      toNext,
      toAfterNext,
      toPrevious,
      toNextBass,
      isTonicMinor(event),
    ].join();
    return Array.from({ length: HOME_COUNT }, (_, key) => {
      const place = (event.root - (key % 12) + 12) % 12;
      const identity = `${modeOfKeyIndex(key)},${place},${shape}`;
      let entry = known.get(identity);
      if (entry === undefined) {
        entry = functionsIn(modeOfKeyIndex(key), place, event, surroundings);
        known.set(identity, entry);
      }
      return entry;
    });
  });
  return { events, functions, closing: closingOf(events), costs };
}

/** A function of an event in a key. */
export function functionAt(ground: Ground, index: number, key: number, choice: number): HarmonicFunction {
  const found = ground.functions[index]?.[key]?.[choice];
  if (found === undefined) throw new RangeError(`choice must be one of the functions of event ${index}, not ${choice}`);
  return found;
}
