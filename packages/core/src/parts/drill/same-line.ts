import type { DrillKind } from './drill-kind.ts';
import { barsInTime } from './passage.ts';

/** The line of these bars, kept and moved into each key: never invented anew. */
export const sameLine: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { line }) => {
    const notes = line();
    const sourceBars = bars.map(({ playedBar }) => playedBar);
    if (notes.length === 0) return [];
    return [
      {
        label: { code: 'drill.line', args: {} },
        bars: barsInTime(bars),
        write: (slots) => {
          const sources = bars.flatMap((bar) => bar.slots);
          const starts = [
            ...new Map(
              slots.map(({ analysed: { played } }) => [played.playedBar.index, played.playedBar.startTicks]),
            ).values(),
          ];
          return notes.flatMap((note) => {
            const bar = sourceBars.findIndex(
              ({ startTicks, bar: { durationTicks } }) =>
                note.startTicks >= startTicks && note.startTicks < startTicks + durationTicks,
            );
            const index = sources.findIndex(({ analysed }) => analysed.played.index === note.slotIndex);
            const [source, start, slot] = [sourceBars[bar], starts[bar], slots[index]];
            if (source === undefined || start === undefined || slot === undefined) return [];
            const slotIndex = slot.analysed.played.index;
            return [{ ...note, startTicks: note.startTicks - source.startTicks + start, slotIndex }];
          });
        },
      },
    ];
  },
};
