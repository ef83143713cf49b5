import { beatTicksOf, type PlayedSlot } from '../chart/index.ts';
import { midiOf, type Pitch } from '../theory/index.ts';
import { BASS_KEYS, type BassBounds, type BassStep } from './bass-line.ts';

/** A note of the line above. */
export interface AboveNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly pitch: Pitch;
}

/** What a bass key costs more under a line; integers, beside the costs of bass-line.ts. Our own. */
const UNDER_LINE_COST = {
  /** A half step under the line's note, in whatever octave, on a strong beat: a minor ninth. */
  minorNinth: 12,
  /** The line's own note, where it begins with the bass: two voices become one. */
  doubled: 4,
} as const;

/**
 * What each key costs under the line, by `step:key` as BassBounds says it. Line and bass have one price: on the first and the third beat no
 * minor ninth between them where the bass has a choice, and as few doubled notes as can be, so that no octaves run in parallel. Common practice.
 * @param playedOf the slot of a step
 * @param line in time order; what sounds at a step's beginning counts
 */
export function costsUnderLine(
  steps: readonly BassStep[],
  playedOf: (step: BassStep) => PlayedSlot,
  line: readonly AboveNote[],
  range: BassBounds['range'],
): Map<string, number> {
  const costs = new Map<string, number>();
  const { lowest, highest } = BASS_KEYS[range];
  let at = 0;
  for (const [index, step] of steps.entries()) {
    while (at < line.length && endOf(line[at] as AboveNote) <= step.startTicks) at++;
    const above = line[at];
    if (above === undefined || above.startTicks > step.startTicks) continue;
    const { playedBar } = playedOf(step);
    const isStrong = (step.startTicks - playedBar.startTicks) % (2 * beatTicksOf(playedBar.bar.meter)) === 0;
    const sound = midiOf(above.pitch) % 12;
    for (let key = lowest; key <= highest; key++) {
      const over = (sound - key + 120) % 12;
      if (over === 1 && isStrong) costs.set(`${index}:${key}`, UNDER_LINE_COST.minorNinth);
      else if (over === 0 && above.startTicks === step.startTicks)
        costs.set(`${index}:${key}`, UNDER_LINE_COST.doubled);
    }
  }
  return costs;
}

const endOf = ({ startTicks, durationTicks }: AboveNote): number => startTicks + durationTicks;
