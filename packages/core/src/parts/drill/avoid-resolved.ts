import { ALL_SHAPES, positionOver, reachOf, type Finger, type HandSize, type Position } from '../../hand/index.ts';
import { formatNoteName, modulo, pitchClassOf, type NoteName } from '../../theory/index.ts';
import { pulsesOf } from '../chorus/pulse.ts';
import type { HandNote } from '../note.ts';
import type { DrillKind } from './drill-kind.ts';
import { inPosition, isToneOf, nearestThumb, noteUnder, rubsOver } from './drill-note.ts';
import { barOver, eachChordOnce, isHeld, type HeldSlot } from './passage.ts';

/** Five neighbouring notes of a scale that hold an avoid note beside the chord tone that takes it in. */
interface Leading {
  readonly position: Position;
  readonly avoid: Finger;
  readonly goal: Finger;
}

const isSame = (a: NoteName, b: NoteName): boolean => pitchClassOf(a) === pitchClassOf(b);

/** Five neighbouring notes of the scale from one on, as a position. */
function neighbours({ chordScale: { notes, kept } }: HeldSlot, from: number): Position | undefined {
  const five = [0, 1, 2, 3, 4].map((step) => pitchClassOf(notes[(from + step) % notes.length] as NoteName));
  const steps = five.map((each) => modulo(each - (five[0] as number), 12));
  const shape = ALL_SHAPES.find((each) => each.steps.every((step, index) => step === steps[index]));
  return shape === undefined ? undefined : positionOver(shape, five[0] as (typeof five)[number], notes, kept);
}

const fingerOn = ({ notes }: Position, note: NoteName): Finger | undefined => {
  const index = notes.findIndex((each) => isSame(each, note));
  return index < 0 ? undefined : ((index + 1) as Finger);
};

/** A note and the chord tone a step away that takes it in. */
interface Step {
  readonly note: NoteName;
  readonly goal: NoteName;
}

/** The avoid notes of a chord with where they go; where nothing rubs the tension that leads most: a half step above a tone first. */
function stepsOf({ chordScale }: HeldSlot): Step[] {
  const { avoid, tensions, chordTones } = chordScale;
  const steps = avoid.flatMap(({ note, resolvesTo: [first] }) =>
    first === undefined ? [] : [{ note, goal: first.note }],
  );
  if (steps.length > 0) return steps;
  for (const semitones of [1, 2]) {
    for (const note of tensions) {
      const goal = chordTones.find((tone) => modulo(pitchClassOf(note) - pitchClassOf(tone), 12) === semitones);
      if (goal !== undefined) return [{ note, goal }];
    }
  }
  return [];
}

/** The handiest five notes for each: chord tones under the fingers first, then a thumb near to where the hand is. */
function leadingsOf(slot: HeldSlot, hand: HandSize): Leading[] {
  const { chordScale, thumbMidi } = slot;
  return stepsOf(slot).flatMap(({ note, goal }) => {
    const found = chordScale.notes
      .flatMap((_, from) => neighbours(slot, from) ?? [])
      .filter((each) => reachOf(each.shape, pitchClassOf(each.thumb), hand).verdict !== 'out of reach')
      .flatMap((position): Leading[] => {
        const [avoid, to] = [fingerOn(position, note), fingerOn(position, goal)];
        return avoid === undefined || to === undefined || Math.abs(avoid - to) !== 1
          ? []
          : [{ position, avoid, goal: to }];
      });
    const tones = ({ position }: Leading): number => position.notes.filter((each) => isToneOf(slot, each)).length;
    const way = ({ position }: Leading): number => Math.abs(nearestThumb(position.thumb, thumbMidi) - thumbMidi);
    return found.toSorted((a, b) => tones(b) - tones(a) || way(a) - way(b)).slice(0, 1);
  });
}

/** Each beat in turn the note that rubs and the one that takes it in; what is left of the bar is held. */
function onTheBeat(slot: HeldSlot, { avoid, goal }: Leading): HandNote[] {
  const { startTicks, endTicks, playedBar } = slot.analysed.played;
  const pulses = pulsesOf(playedBar);
  const [first] = pulses;
  const pulseTicks = first === undefined ? endTicks - startTicks : first.cells * first.cellTicks;
  const stepTicks = pulses.length < 2 ? (endTicks - startTicks) / 2 : pulseTicks;
  const pairs = Math.floor((endTicks - startTicks) / (2 * stepTicks));
  return Array.from({ length: pairs }, (_, pair) => {
    const at = startTicks + pair * 2 * stepTicks;
    const end = pair === pairs - 1 ? endTicks : at + 2 * stepTicks;
    return [noteUnder(slot, avoid, at, stepTicks), noteUnder(slot, goal, at + stepTicks, end - at - stepTicks)];
  }).flat();
}

/** The note that rubs in passing: off the beat, between a note beside it and the one that takes it in. */
function inPassing(slot: HeldSlot, { avoid, goal }: Leading): HandNote[] {
  const { startTicks, endTicks, playedBar } = slot.analysed.played;
  const [first] = pulsesOf(playedBar);
  const cellTicks = first?.cellTicks ?? endTicks - startTicks;
  const cells = Math.max(2, first?.cells ?? 2);
  const beyond = 2 * avoid - goal;
  const isFree = beyond >= 1 && beyond <= 5 && !rubsOver(slot, slot.position.notes[beyond - 1] as NoteName);
  const before = (isFree ? beyond : goal) as Finger;
  const groupTicks = 2 * cells * cellTicks;
  const groups = Math.floor((endTicks - startTicks) / groupTicks);
  // a bar too short to come from somewhere begins with it
  if (groups === 0) return onTheBeat(slot, { position: slot.position, avoid, goal });
  return Array.from({ length: groups }, (_, group) => {
    const at = startTicks + group * groupTicks;
    const end = group === groups - 1 ? endTicks : at + groupTicks;
    const offBeat = at + (cells - 1) * cellTicks;
    const goalTicks = offBeat + cellTicks;
    const leading = [noteUnder(slot, avoid, offBeat, cellTicks)];
    // where the goal itself comes before, it rings on from the group before
    const rings = before === goal && group < groups - 1 ? cells * cellTicks - cellTicks : 0;
    if (before !== goal || group === 0) leading.unshift(noteUnder(slot, before, at, offBeat - at));
    return [...leading, noteUnder(slot, goal, goalTicks, end - goalTicks + rings)];
  }).flat();
}

/** Each avoid note heard against its chord and let go, then in passing: two bars for each, five neighbouring notes under the hand. */
export const avoidResolved: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { hand }) =>
    eachChordOnce(bars).flatMap(({ source, slot }) =>
      leadingsOf(slot, hand).map((leading) => {
        const { position, avoid, goal } = leading;
        const held = inPosition(slot, position, nearestThumb(position.thumb, slot.thumbMidi));
        const at = (finger: Finger): string => formatNoteName(position.notes[finger - 1] as NoteName);
        return {
          label: { code: 'drill.resolve', args: { from: at(avoid), to: at(goal) } },
          bars: [barOver(source, held), barOver(source, held)],
          write: (slots) =>
            slots
              .filter(isHeld)
              .flatMap((each, bar) => (bar === 0 ? onTheBeat(each, leading) : inPassing(each, leading))),
        };
      }),
    ),
};
