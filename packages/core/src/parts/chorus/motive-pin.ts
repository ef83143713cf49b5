import { TICKS_PER_QUARTER } from '../../chart/index.ts';
import type { Finger } from '../../hand/index.ts';
import { FEWEST_MOTIVE_NOTES, MOST_MOTIVE_NOTES, type Motive } from './motive.ts';
import type { Pulse } from './pulse.ts';

/** A note of a motive that a teacher fixed: a finger, not a key. */
export interface MotiveNote {
  /** From the motive's first note. */
  readonly onsetTicks: number;
  readonly durationTicks: number;
  readonly finger: Finger;
}

/** A finger motive that a chorus is to be made of. It has no key and no chord: it means the same in every position. */
export interface MotivePin {
  /** In time order, one at a time, the first at 0. */
  readonly notes: readonly MotiveNote[];
}

/** Most motives a chorus can be given: more are not remembered. */
export const MOST_MOTIVE_PINS = 3;
/** Two bars of four: longer is no motive. */
const LONGEST_MOTIVE_TICKS = 8 * TICKS_PER_QUARTER;

/** What keeps notes from being a motive; null where they are one. */
export type MotiveFault = 'too few notes' | 'too many notes' | 'too long' | 'not in order';

export function motiveFault({ notes }: MotivePin): MotiveFault | null {
  if (notes.length < FEWEST_MOTIVE_NOTES) return 'too few notes';
  if (notes.length > MOST_MOTIVE_NOTES) return 'too many notes';
  const last = notes.at(-1) as MotiveNote;
  if (last.onsetTicks + last.durationTicks > LONGEST_MOTIVE_TICKS) return 'too long';
  const follows = notes.every(({ onsetTicks, durationTicks }, index) => {
    const before = notes[index - 1];
    const from = before === undefined ? 0 : before.onsetTicks + before.durationTicks;
    return durationTicks > 0 && (before === undefined ? onsetTicks === 0 : onsetTicks >= from);
  });
  return follows ? null : 'not in order';
}

/**
 * The motive that played notes are: their fingers and rhythm, whatever keys they lie on.
 * @param notes in time order
 * @returns null where they are no motive, as motiveFault says
 */
export function motivePinOf(
  notes: readonly { readonly startTicks: number; readonly durationTicks: number; readonly finger: Finger }[],
): MotivePin | null {
  const start = notes[0]?.startTicks ?? 0;
  const pin = {
    notes: notes.map(({ startTicks, durationTicks, finger }) => ({
      onsetTicks: startTicks - start,
      durationTicks,
      finger,
    })),
  };
  return motiveFault(pin) === null ? pin : null;
}

/** Into how many even parts a pulse may be divided, plainest first. */
const PARTS: Readonly<Record<Pulse['cells'], readonly number[]>> = {
  1: [1, 2, 3, 4],
  2: [2, 3, 4, 6, 8],
  3: [3, 6, 12],
};

/** The signs of one pulse; where no division holds its notes, a note for every cell. */
function signsOfPulse(notes: readonly MotiveNote[], fromTicks: number, { cells, cellTicks }: Pulse): string {
  const spanTicks = cells * cellTicks;
  const inside = notes.filter(({ onsetTicks }) => onsetTicks >= fromTicks && onsetTicks < fromTicks + spanTicks);
  const parts = PARTS[cells].find((each) =>
    inside.every(({ onsetTicks }) => ((onsetTicks - fromTicks) * each) % spanTicks === 0),
  );
  if (parts === undefined) return 'x'.repeat(cells);
  return Array.from({ length: parts }, (_, part) => {
    const at = fromTicks + (part * spanTicks) / parts;
    if (inside.some(({ onsetTicks }) => onsetTicks === at)) return 'x';
    return notes.some(({ onsetTicks, durationTicks }) => onsetTicks < at && at < onsetTicks + durationTicks)
      ? '-'
      : '.';
  }).join('');
}

/**
 * A fixed motive as the search takes it, in the pulses of a metre. A note that would be held on out of a triplet or a sixteenth
 * ends with its pulse.
 */
export function motiveOfPin({ notes }: MotivePin, pulse: Pulse): Motive {
  const spanTicks = pulse.cells * pulse.cellTicks;
  const last = notes.at(-1) as MotiveNote;
  const pulses = Math.ceil((last.onsetTicks + last.durationTicks) / spanTicks);
  const signs: string[] = [];
  for (let index = 0; index < pulses; index++) {
    const own = signsOfPulse(notes, index * spanTicks, pulse);
    const isFine = (signs.at(-1)?.length ?? 0) > pulse.cells;
    signs.push(isFine ? own.replace(/^-+/u, (held) => '.'.repeat(held.length)) : own);
  }
  const moves = notes.slice(1).map(({ finger }, index) => finger - (notes[index] as MotiveNote).finger);
  return { signs, moves };
}
