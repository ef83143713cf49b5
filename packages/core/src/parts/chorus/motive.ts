import type { RandomSource } from '../../random.ts';
import { drawFigure, soundsAfter } from './figure.ts';
import type { ChorusLevel } from './level.ts';
import type { Pulse } from './pulse.ts';

/**
 * A finger motive: a rhythm and the moves of the fingers through it, which mean the same in every position. It has no pitch
 * until a hand is somewhere.
 */
export interface Motive {
  /** A pulse each, as figure.ts writes them; the first begins with a note. */
  readonly signs: readonly string[];
  /** From each of its notes to the next, in fingers: 1 is one finger up. One fewer than its notes. */
  readonly moves: readonly number[];
}

/** What may happen to a motive when it comes back. */
export const MOTIVE_FORMS = ['again', 'turned over', 'backwards', 'in another rhythm', 'shortened'] as const;
export type MotiveForm = (typeof MOTIVE_FORMS)[number];

/** How often each form is taken. 'Again' is never literal: the hand is elsewhere or the bar is another. Our own. */
const FORM_WEIGHTS = [4, 4, 2, 4, 2] as const;

/** Fewest and most notes: shorter is no motive, longer is no longer remembered. Our own. */
export const FEWEST_MOTIVE_NOTES = 3;
export const MOST_MOTIVE_NOTES = 6;

/** A move of one, two, three fingers. Our own: in a position one finger is a second or a third already. */
const MOVE_SIZES = [1, 2, 3] as const;
const MOVE_WEIGHTS = [8, 4, 1] as const;
/** The widest a motive spans, in fingers. */
const WIDEST = 4;

/** How many notes signs begin. */
export function notesIn(signs: readonly string[]): number {
  return Array.from(signs.join('')).filter((sign) => sign === 'x').length;
}

function drawMoves(count: number, random: RandomSource): number[] {
  const moves: number[] = [];
  let rises = random.integer(2) === 0;
  let [now, low, high] = [0, 0, 0];
  while (moves.length < count) {
    const size = MOVE_SIZES[random.weighted(MOVE_WEIGHTS)] as number;
    const move = rises ? size : -size;
    const next = now + move;
    const span = Math.max(high, next) - Math.min(low, next);
    const [before, second, third] = [moves.at(-1), moves.at(-2), moves.at(-3)];
    // back and forth between two fingers, or a fourth equal step the same way, is no motive
    const sways = before === -move && (second === undefined || second === move);
    const drags = before === move && second === move && third === move;
    if (span <= WIDEST && !sways && !drags) {
      moves.push(move);
      [now, low, high] = [next, Math.min(low, next), Math.max(high, next)];
      if (random.integer(3) === 0) rises = !rises;
    } else {
      rises = !rises;
      // neither way is open: begin again
      if (random.integer(6) === 0) {
        moves.length = 0;
        [now, low, high] = [0, 0, 0];
      }
    }
  }
  return moves;
}

/** Pulses a motive takes, by their cells: about half a bar of four, a bar of three. */
const PULSES: Readonly<Record<Pulse['cells'], readonly number[]>> = { 1: [3, 4], 2: [2, 2, 3], 3: [1, 2] };

function drawSigns(cells: Pulse['cells'], level: ChorusLevel, random: RandomSource): string[] {
  const lengths = PULSES[cells];
  for (;;) {
    const signs: string[] = [];
    const length = lengths[random.integer(lengths.length)] as number;
    while (signs.length < length) {
      // no holding on out of a triplet or a sixteenth
      const before = soundsAfter(signs.join(''), false) && (signs.at(-1)?.length ?? 0) <= cells;
      signs.push(drawFigure(cells, level, before, random));
    }
    const count = notesIn(signs);
    const begins = (signs[0] as string).startsWith('x');
    if (begins && count >= FEWEST_MOTIVE_NOTES && count <= MOST_MOTIVE_NOTES) return signs;
  }
}

/**
 * Draws a motive.
 * @param cells of the pulses it is made for
 */
export function drawMotive(cells: Pulse['cells'], level: ChorusLevel, random: RandomSource): Motive {
  const signs = drawSigns(cells, level, random);
  return { signs, moves: drawMoves(notesIn(signs) - 1, random) };
}

/** A form for a motive that comes back; one that would leave too little of it is not drawn. */
export function drawForm({ signs, moves }: Motive, random: RandomSource): MotiveForm {
  const isLong = moves.length + 1 > FEWEST_MOTIVE_NOTES && signs.length > 1;
  const open = FORM_WEIGHTS.map((weight, form) => (MOTIVE_FORMS[form] === 'shortened' && !isLong ? 0 : weight));
  return MOTIVE_FORMS[random.weighted(open)] as MotiveForm;
}

/**
 * A motive in one of its forms: fingers the other way, in the other order, another rhythm for the same fingers, or its head
 * alone.
 */
export function inForm(
  motive: Motive,
  form: MotiveForm,
  cells: Pulse['cells'],
  level: ChorusLevel,
  random: RandomSource,
): Motive {
  const { signs, moves } = motive;
  switch (form) {
    case 'again':
      return motive;
    case 'turned over':
      return { signs, moves: moves.map((move) => -move) };
    case 'backwards':
      return { signs, moves: moves.map((move) => -move).toReversed() };
    case 'in another rhythm': {
      const drawn = drawSigns(cells, level, random);
      const count = Math.min(notesIn(drawn) - 1, moves.length);
      return { signs: drawn, moves: moves.slice(0, count) };
    }
    case 'shortened': {
      const head = signs.slice(0, -1);
      const count = notesIn(head);
      return count < FEWEST_MOTIVE_NOTES ? motive : { signs: head, moves: moves.slice(0, count - 1) };
    }
  }
}
