import type { RandomSource } from '../../random.ts';
import { atLevel, type ByLevel, type ChorusLevel } from './level.ts';
import type { Pulse } from './pulse.ts';

/** What a pulse may hold. */
export interface Figure {
  /** The pulse in even parts, a sign each: `x` a note begins, `-` it is held, `.` silence. */
  readonly signs: string;
  readonly weights: ByLevel;
}

/**
 * Rhythmic figures by the cells of a pulse. Eighths outweigh everything, as they do in swing solos (Weimar data package:
 * 23.8 % of beats hold two even halves, 15.2 % one note on the beat, 11.9 % one off it, 4 % an even triplet, 4.5 % four
 * sixteenths; C); quarter-note figures belong to levels 1 and 2, triplet turns to 2 and up, sixteenths to 4. Weights our own.
 */
const FIGURES: Readonly<Record<Pulse['cells'], readonly Figure[]>> = {
  1: [
    { signs: 'x', weights: [12, 14, 16, 16] },
    { signs: '-', weights: [4, 3, 2, 2] },
  ],
  2: [
    { signs: 'xx', weights: [12, 25, 28, 22] },
    { signs: 'x-', weights: [12, 6, 4, 3] },
    { signs: '-x', weights: [3, 4, 4, 4] },
    { signs: '.x', weights: [3, 3, 3, 3] },
    { signs: '--', weights: [2, 1, 0, 0] },
    { signs: 'xxx', weights: [0, 2, 4, 5] },
    { signs: 'x-xx', weights: [0, 0, 0, 4] },
    { signs: 'xxxx', weights: [0, 0, 0, 4] },
  ],
  3: [
    { signs: 'xxx', weights: [8, 14, 18, 20] },
    { signs: 'x-x', weights: [7, 5, 4, 4] },
    { signs: 'x--', weights: [5, 2, 1, 1] },
    { signs: '.xx', weights: [2, 3, 3, 3] },
  ],
};

/**
 * Draws what a pulse holds.
 * @param sounds whether a note sounds up to this pulse, so that it can be held on
 */
export function drawFigure(cells: Pulse['cells'], level: ChorusLevel, sounds: boolean, random: RandomSource): string {
  const open = FIGURES[cells].map(({ signs, weights }) =>
    signs.startsWith('-') && !sounds ? 0 : atLevel(weights, level),
  );
  return (FIGURES[cells][random.weighted(open)] as Figure).signs;
}

/** A note of a rhythm before it has a pitch. */
export interface Beginning {
  readonly startTicks: number;
  readonly durationTicks: number;
}

/** Whether signs leave a note sounding at their end. */
export function soundsAfter(signs: string, soundedBefore: boolean): boolean {
  let sounds = soundedBefore;
  for (const sign of signs) sounds = sign === 'x' || (sign === '-' && sounds);
  return sounds;
}

/**
 * Signs as notes, put after what sounds already: a held sign makes the last note longer.
 * @param startTicks where the signs begin
 * @param spanTicks how long all of them take
 */
export function appendSigns(
  before: readonly Beginning[],
  signs: string,
  startTicks: number,
  spanTicks: number,
): Beginning[] {
  const notes = [...before];
  const partTicks = spanTicks / signs.length;
  for (const [part, sign] of Array.from(signs).entries()) {
    const at = startTicks + part * partTicks;
    const last = notes.at(-1);
    if (sign === 'x') notes.push({ startTicks: at, durationTicks: partTicks });
    else if (sign === '-' && last !== undefined && last.startTicks + last.durationTicks === at) {
      notes[notes.length - 1] = { ...last, durationTicks: last.durationTicks + partTicks };
    }
  }
  return notes;
}
