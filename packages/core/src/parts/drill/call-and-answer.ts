import type { PlannedSlot } from '../../plan/index.ts';
import { inForm, type Motive } from '../chorus/motive.ts';
import { pulsesOf } from '../chorus/pulse.ts';
import type { DrillKind } from './drill-kind.ts';
import { cutMotive, drawMotiveFor, motiveIn } from './motive-place.ts';
import { barsInTime, isHeld } from './passage.ts';

/** Ways a call is answered by its own fingers. */
const ANSWERS = ['turned over', 'backwards', 'in another rhythm'] as const;

/** Slots bar by bar. */
function byBar(slots: readonly PlannedSlot[]): PlannedSlot[][] {
  const bars: PlannedSlot[][] = [];
  for (const slot of slots) {
    const { playedBar } = slot.analysed.played;
    if (bars.at(-1)?.[0]?.analysed.played.playedBar !== playedBar) bars.push([]);
    bars.at(-1)?.push(slot);
  }
  return bars;
}

const said = (slots: readonly PlannedSlot[], call: Motive, answer: Motive | null) =>
  byBar(slots).flatMap((bar, index) => {
    if (index % 2 === 0) return motiveIn(bar, call);
    return answer === null ? [] : motiveIn(bar, answer);
  });

/** A bar that calls and a bar left free; then the same calls with an answer written out, made of the same fingers. */
export const callAndAnswer: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { level, random }) => {
    const [first] = bars;
    if (first === undefined || !bars.some(({ slots }) => slots.some(isHeld))) return [];
    // an odd number of bars goes round twice, so that every call has its answer
    const paired = barsInTime(bars.length % 2 === 0 ? bars : [...bars, ...bars]);
    const source = random('motive');
    const pulses = pulsesOf(first.playedBar);
    const call = drawMotiveFor(pulses, level, source);
    const form = ANSWERS[source.integer(ANSWERS.length)] as (typeof ANSWERS)[number];
    const answer = cutMotive(inForm(call, form, pulses[0]?.cells ?? 2, level, source), pulses.length);
    return [
      {
        label: { code: 'drill.call', args: {} },
        bars: paired,
        write: (slots) => said(slots, call, null),
      },
      {
        label: { code: 'drill.answer', args: { form } },
        bars: paired,
        write: (slots) => said(slots, call, answer),
      },
    ];
  },
};
