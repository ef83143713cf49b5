import { pulsesOf } from '../chorus/pulse.ts';
import type { DrillKind } from './drill-kind.ts';
import { inPosition, nearestThumb } from './drill-note.ts';
import { reachedFamily } from './family-order.ts';
import { drawMotiveFor, motiveIn } from './motive-place.ts';
import { barOver, eachChordOnce } from './passage.ts';

/** One finger motive in every position of each chord's family: a bar each, and room to move in what it leaves of the bar. */
export const motiveEverywhere: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { hand, level, random }) => {
    const chords = eachChordOnce(bars);
    const [first] = chords;
    if (first === undefined) return [];
    const motive = drawMotiveFor(pulsesOf(first.source.playedBar), level, random('motive'));
    return chords.flatMap(({ source, slot }) =>
      reachedFamily(slot, hand).map((position) => ({
        label: { code: 'drill.motive', args: {} },
        bars: [barOver(source, inPosition(slot, position, nearestThumb(position.thumb, slot.thumbMidi)))],
        write: (slots) => motiveIn(slots, motive),
      })),
    );
  },
};
