import { midiOf } from '../../theory/index.ts';
import { arpeggioStudy } from '../arpeggios.ts';
import type { HandNote } from '../note.ts';
import type { DrillKind } from './drill-kind.ts';
import { reasonOver } from './drill-note.ts';
import { barOver, eachChordOnce } from './passage.ts';

/** Up and down: where the lowest note comes back near the end it is held; else the line goes on to the end. */
function upAndDown(notes: readonly HandNote[], latestTicks: number, endTicks: number): HandNote[] {
  const [lowest] = notes;
  if (lowest === undefined) return [];
  const back = notes.findLastIndex((each) => midiOf(each.pitch) === midiOf(lowest.pitch));
  const last = notes[back] as HandNote;
  if (last.startTicks < latestTicks) return [...notes];
  return [...notes.slice(0, back), { ...last, durationTicks: endTicks - last.startTicks }];
}

/** Each chord stacked in thirds up to its 13th and down again, out of the positions: two bars a chord. */
export const inThirds: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { hand }) =>
    eachChordOnce(bars).map(({ source, slot }) => ({
      label: { code: 'drill.stack', args: {} },
      bars: [barOver(source, slot), barOver(source, slot)],
      write: (slots) => {
        const [first, second] = slots;
        if (first === undefined || second === undefined) return [];
        // both bars are one chord to the study, which else would begin again at the bar line
        const { played } = first.analysed;
        const whole = { ...first.analysed, played: { ...played, endTicks: second.analysed.played.endTicks } };
        const study = arpeggioStudy({ slots: [{ ...first, analysed: whole }], totalTravelMm: 0 }, hand);
        const { startTicks, endTicks } = second.analysed.played;
        return upAndDown(study, (startTicks + endTicks) / 2, endTicks).map((note) => {
          const here = note.startTicks >= second.analysed.played.startTicks ? second : first;
          return { ...note, slotIndex: here.analysed.played.index, why: reasonOver(here, note.pitch.name) };
        });
      },
    })),
};
