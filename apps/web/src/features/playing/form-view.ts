import { type ChordSymbol, type Key, type Lesson, type Midi, type Position } from '@fivespan/core';

/** Where the hand lies: what play view shows. */
export interface HandPlace {
  readonly position: Position;
  readonly thumbMidi: Midi;
}

/** A bar of the form as it is played, repeats written out. */
export interface FormBar {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** The section's name; null where the chart names none. */
  readonly section: string | null;
  readonly startsSection: boolean;
}

export interface FormSlot {
  readonly startTicks: number;
  readonly endTicks: number;
  readonly chord: ChordSymbol;
  /** Null where nothing is to be played. */
  readonly hand: HandPlace | null;
}

/** One time through the tune in one key, as play view needs it. Ticks from the first full bar; a pickup is left out. */
export interface FormView {
  readonly key: Key;
  readonly bars: readonly FormBar[];
  readonly slots: readonly FormSlot[];
}

/** What play view shows of a lesson. */
export function formViewOf({ analysis, plan }: Lesson): FormView {
  const { form, key } = analysis;
  const bars = form.bars.filter(({ startTicks }) => startTicks >= 0);
  return {
    key,
    bars: bars.map(({ startTicks, bar, section }, index) => ({
      startTicks,
      durationTicks: bar.durationTicks,
      section: section.name,
      startsSection: index === 0 || bars[index - 1]?.section.id !== section.id || section.bars[0]?.id === bar.id,
    })),
    slots: plan.slots
      .filter(({ analysed }) => analysed.played.startTicks >= 0)
      .map(({ analysed: { played }, position, thumbMidi }) => ({
        startTicks: played.startTicks,
        endTicks: played.endTicks,
        chord: played.slot.chord,
        hand: position === null || thumbMidi === null ? null : { position, thumbMidi },
      })),
  };
}

/** Whether the hand need not move from one place to the other. */
export function isSamePlace(a: HandPlace | null, b: HandPlace | null): boolean {
  if (a === null || b === null) return a === b;
  return a.thumbMidi === b.thumbMidi && a.position.shape.id === b.position.shape.id;
}
