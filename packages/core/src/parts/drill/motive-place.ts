import type { Finger } from '../../hand/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import type { NoteName } from '../../theory/index.ts';
import { appendSigns, type Beginning } from '../chorus/figure.ts';
import type { ChorusLevel } from '../chorus/level.ts';
import { drawMotive, notesIn, type Motive } from '../chorus/motive.ts';
import { pulsesOf, type Pulse } from '../chorus/pulse.ts';
import type { HandNote } from '../note.ts';
import { isToneOf, noteUnder, rubsOver } from './drill-note.ts';
import { isHeld, type HeldSlot } from './passage.ts';

/** How often a motive is drawn before one that is too long for its bar is cut. */
const MOST_DRAWS = 40;

/** A motive cut to the pulses there are. */
export function cutMotive({ signs, moves }: Motive, pulses: number): Motive {
  const own = signs.slice(0, pulses);
  return { signs: own, moves: moves.slice(0, Math.max(0, notesIn(own) - 1)) };
}

/** A motive that a bar has room for, drawn as the chorus draws its own. */
export function drawMotiveFor(pulses: readonly Pulse[], level: ChorusLevel, random: RandomSource): Motive {
  const cells = pulses[0]?.cells ?? 2;
  let motive = drawMotive(cells, level, random);
  for (let draws = 1; draws < MOST_DRAWS && motive.signs.length > pulses.length; draws++) {
    motive = drawMotive(cells, level, random);
  }
  return cutMotive(motive, pulses.length);
}

/** A motive's rhythm from the first of these pulses on. */
function beginningsOf({ signs }: Motive, pulses: readonly Pulse[]): Beginning[] {
  return signs.reduce<Beginning[]>((notes, sign, index) => {
    const pulse = pulses[index];
    return pulse === undefined ? notes : appendSigns(notes, sign, pulse.startTicks, pulse.cells * pulse.cellTicks);
  }, []);
}

/** The fingers of a motive that begins on one; undefined where they leave the hand. */
function fingersFrom(first: Finger, { moves }: Motive): Finger[] | undefined {
  const fingers: number[] = [first];
  for (const move of moves) fingers.push((fingers.at(-1) as number) + move);
  return fingers.every((each) => each >= 1 && each <= 5) ? (fingers as Finger[]) : undefined;
}

/** How well a motive ends and begins where it is put: on chord tones, the end before the beginning, never on a note that rubs. */
function worthOf(slots: readonly (HeldSlot | undefined)[], fingers: readonly Finger[]): number {
  const at = (index: number): number => {
    const [slot, finger] = [slots.at(index), fingers.at(index)];
    if (slot === undefined || finger === undefined) return 0;
    const note = slot.position.notes[finger - 1] as NoteName;
    return rubsOver(slot, note) ? -2 : isToneOf(slot, note) ? 1 : 0;
  };
  return 4 * at(-1) + at(0);
}

/**
 * A motive put under the hand of a bar: it begins on the finger from which it ends best, the lowest of equals, and each note takes the
 * position of the chord that sounds.
 * @param slots of one bar, in time order
 */
export function motiveIn(slots: readonly PlannedSlot[], motive: Motive): HandNote[] {
  const [first] = slots;
  if (first === undefined) return [];
  const beginnings = beginningsOf(motive, pulsesOf(first.analysed.played.playedBar));
  const slotAt = (ticks: number): HeldSlot | undefined =>
    slots.filter(isHeld).find(({ analysed: { played } }) => played.startTicks <= ticks && ticks < played.endTicks);
  const held = beginnings.map(({ startTicks }) => slotAt(startTicks));
  let best: { readonly fingers: readonly Finger[]; readonly worth: number } | undefined;
  for (const finger of [1, 2, 3, 4, 5] as const) {
    const fingers = fingersFrom(finger, motive);
    if (fingers === undefined) continue;
    const worth = worthOf(held, fingers);
    if (best === undefined || worth > best.worth) best = { fingers, worth };
  }
  return beginnings.flatMap(({ startTicks, durationTicks }, index) => {
    const [slot, finger] = [held[index], best?.fingers[index]];
    if (slot === undefined || finger === undefined) return [];
    // a note ends with its chord
    const room = slot.analysed.played.endTicks - startTicks;
    return [noteUnder(slot, finger, startTicks, Math.min(durationTicks, room))];
  });
}
