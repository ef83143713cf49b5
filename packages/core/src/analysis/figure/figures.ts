import type { Form } from '../../chart/index.ts';
import type { Key } from '../../theory/index.ts';
import type { Cadence, Reading } from '../analysis.ts';
import { cadencesIn } from './cadences.ts';
import { dominantChainsIn } from './dominant-chain.ts';
import { formTypesIn } from './form-types.ts';
import { diminishedIn, lineClichesIn } from './inner-motion.ts';
import type { Line, LineBar, ReadEvent } from './read-event.ts';
import { stretchesIn } from './stretches.ts';
import { turnaroundsIn } from './turnarounds.ts';

/** The form's bars with the chords that sound in each. */
function barsOfLine(form: Form, chords: readonly ReadEvent[], slotsOfBar: readonly (readonly number[])[]): LineBar[] {
  const chordOfSlot = new Map<number, number>();
  for (const [index, { event }] of chords.entries()) for (const slot of event.slots) chordOfSlot.set(slot, index);
  // a blues or a rhythm form is counted in full bars
  return form.bars.flatMap((played, index): LineBar[] => {
    if (played.bar.number === 0) return [];
    const sounding = (slotsOfBar[index] ?? [])
      .map((slot) => chordOfSlot.get(slot))
      .filter((each) => each !== undefined);
    const startsSection =
      index === 0 ||
      form.bars[index - 1]?.section.id !== played.section.id ||
      played.bar.id === played.section.bars[0]?.id;
    return [{ sounding: [...new Set(sounding)], startsSection }];
  });
}

/**
 * The figures the chords make, in the order of their first slots, longer ones first; and the readings that a figure changes
 * (a chord in a modal stretch or a constant-structure run).
 */
export function figuresIn(
  form: Form,
  chords: readonly ReadEvent[],
  home: Key,
): { cadences: Cadence[]; changed: ReadonlyMap<ReadEvent, Reading> } {
  const slotsOfBar: number[][] = form.bars.map(() => []);
  for (const { index, playedBar } of form.slots) slotsOfBar[playedBar.index]?.push(index);
  const line: Line = { chords, bars: barsOfLine(form, chords, slotsOfBar) };
  const fullBars = slotsOfBar.filter((_, index) => form.bars[index]?.bar.number !== 0);
  const { cadences, changed } = stretchesIn(line);
  const all = [
    ...formTypesIn(line, home, fullBars),
    ...cadencesIn(line),
    ...dominantChainsIn(line),
    ...turnaroundsIn(line),
    ...diminishedIn(line),
    ...lineClichesIn(line),
    ...cadences,
  ];
  const first = (cadence: Cadence): number => cadence.slots[0] ?? 0;
  return { cadences: all.sort((a, b) => first(a) - first(b) || b.slots.length - a.slots.length), changed };
}
