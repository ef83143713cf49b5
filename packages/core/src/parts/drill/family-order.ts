import { reachOf, type Finger, type Position } from '../../hand/index.ts';
import type { RandomSource } from '../../random.ts';
import { pitchClassOf } from '../../theory/index.ts';
import type { DrillKind, DrillSetting, Passage } from './drill-kind.ts';
import { fingersThrough, inPosition, nearestThumb } from './drill-note.ts';
import { barOver, eachChordOnce, isHeld, type DrilledChord, type HeldSlot } from './passage.ts';

const UP_AND_DOWN: readonly Finger[] = [1, 2, 3, 4, 5, 4, 3, 2];
const DOWN_AND_UP: readonly Finger[] = [5, 4, 3, 2, 1, 2, 3, 4];

/** The family's positions that the hand reaches; the planned one where it reaches none. */
export function reachedFamily({ family, position }: HeldSlot, hand: DrillSetting['hand']): readonly Position[] {
  const reached = family.positions.filter(
    (each) => reachOf(each.shape, pitchClassOf(each.thumb), hand).verdict !== 'out of reach',
  );
  return reached.length > 0 ? reached : [position];
}

/** The same things in an order that nobody foresees: another one than theirs, where there is one. */
function mixed<Thing>(things: readonly Thing[], random: RandomSource): Thing[] {
  const left = [...things];
  const order: Thing[] = [];
  while (left.length > 0) order.push(...left.splice(random.integer(left.length), 1));
  const isSame = order.every((each, index) => each === things[index]);
  return isSame ? [...order.slice(1), ...order.slice(0, 1)] : order;
}

function passageIn(
  { source, slot }: DrilledChord,
  position: Position,
  code: string,
  fingers: readonly Finger[],
): Passage {
  const moved = inPosition(slot, position, nearestThumb(position.thumb, slot.thumbMidi));
  return {
    label: { code, args: {} },
    bars: [barOver(source, moved)],
    write: (slots) => slots.filter(isHeld).flatMap((each) => fingersThrough(each, fingers)),
  };
}

/** Every position of the chord's family along its chain, then mixed: a bar each. */
export const familyOrder: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { hand, random }) => {
    const source = random('order');
    return eachChordOnce(bars).flatMap((chord) => {
      const positions = reachedFamily(chord.slot, hand);
      return [
        ...positions.map((each) => passageIn(chord, each, 'drill.in-order', UP_AND_DOWN)),
        ...mixed(positions, source).map((each) => passageIn(chord, each, 'drill.mixed', DOWN_AND_UP)),
      ];
    });
  },
};
