import { barsOf, type Bar, type Chart, type Section } from '../chart.ts';
import { beatTicksOf } from '../meter.ts';
import { beatAt, type Form, type PlayedBar, type PlayedSlot } from './form.ts';
import { repeatsOf, type Repeat } from './repeat.ts';

/** A form is never longer; readChart refuses a chart that would be. */
export const LONGEST_FORM_BARS = 20_000;

/** Index of the first bar that is no pickup: where a da capo and an unopened repeat go back to. */
export function firstFullBarOf(bars: readonly Bar[]): number {
  return bars[0]?.number === 0 ? 1 : 0;
}

/** The order in which bars are played, as indices. */
function orderOfBars(bars: readonly Bar[]): number[] {
  const repeatAt = new Map<number, Repeat>();
  for (const repeat of repeatsOf(bars))
    for (let bar = repeat.first; bar <= repeat.last; bar++) repeatAt.set(bar, repeat);
  const order: number[] = [];
  let index = 0;
  let repeat: Repeat | undefined;
  let pass = 1;
  /** After a D.C. or D.S. repeats are not taken: the last time through is played at once (common practice). */
  let isReturning = false;
  let hasJumped = false;
  let until: 'end' | 'fine' | 'coda' = 'end';
  while (index < bars.length) {
    if (order.length >= LONGEST_FORM_BARS) {
      throw new RangeError(`chart must unfold to at most ${LONGEST_FORM_BARS} bars`);
    }
    const bar = bars[index] as Bar;
    const here = repeatAt.get(index);
    if (here !== repeat) {
      repeat = here;
      pass = isReturning && here !== undefined ? here.times : 1;
    }
    if (bar.endings.length > 0 && !bar.endings.includes(pass)) {
      index++;
      continue;
    }
    order.push(index);
    if (isReturning && until === 'fine' && bar.marks.fine) break;
    if (isReturning && until === 'coda' && bar.marks.toCoda) {
      isReturning = false;
      repeat = undefined;
      index = bars.findIndex((each) => each.marks.coda);
      if (index < 0) break;
      continue;
    }
    if (repeat !== undefined && bar.endsRepeatTimes > 0 && pass < repeat.times) {
      pass++;
      index = repeat.first;
      continue;
    }
    if (bar.jump !== null && !hasJumped) {
      hasJumped = true;
      isReturning = true;
      until = bar.jump.until;
      repeat = undefined;
      const segno = bars.findIndex((each) => each.marks.segno);
      index = bar.jump.kind === 'dal segno' && segno >= 0 ? segno : firstFullBarOf(bars);
      continue;
    }
    index++;
  }
  return order;
}

/** At most this many bars are played: every repeat as often as it says, and all of it once more after a jump. */
export function formLengthOf(chart: Chart): number {
  const bars = barsOf(chart);
  let length = bars.length;
  for (const { first, last, times } of repeatsOf(bars)) length += (last - first + 1) * (times - 1);
  return bars.some((bar) => bar.jump !== null) ? length + bars.length : length;
}

/**
 * Plays a chart's repeats, endings and jumps out: every bar as often as it is played, every slot with its time.
 * A da capo goes back to the first full bar, not to the pickup; after it repeats are played once, with their last
 * ending (common practice). Total for every chart that readChart gives; time grows with the length of the form.
 * @example unfold(chartOf('|: Fm7 | 1. Bb7 :| 2. Ebmaj7 |')).bars.map(({ bar, pass }) => `${bar.number}.${pass}`) // → ['1.1', '2.1', '1.2', '3.1']
 */
export function unfold(chart: Chart): Form {
  const written = barsOf(chart);
  const sections: Section[] = chart.sections.flatMap((section) => section.bars.map(() => section));
  const bars: PlayedBar[] = [];
  const slots: PlayedSlot[] = [];
  const passes: number[] = written.map(() => 0);
  const pickupTicks = written[0]?.number === 0 ? written[0].durationTicks : 0;
  let startTicks = 0 - pickupTicks;
  for (const index of orderOfBars(written)) {
    const bar = written[index] as Bar;
    const pass = (passes[index] as number) + 1;
    passes[index] = pass;
    const playedBar: PlayedBar = { bar, section: sections[index] as Section, pass, index: bars.length, startTicks };
    bars.push(playedBar);
    const beatTicks = beatTicksOf(bar.meter);
    for (const slot of bar.slots) {
      const slotStart = startTicks + slot.startTicks;
      slots.push({
        slot,
        playedBar,
        index: slots.length,
        startTicks: slotStart,
        endTicks: slotStart + slot.durationTicks,
        beat: beatAt(playedBar, slotStart),
        beats: slot.durationTicks / beatTicks,
      });
    }
    startTicks += bar.durationTicks;
  }
  return { bars, slots, endTicks: startTicks };
}
