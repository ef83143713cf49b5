import {
  allowedFamilies,
  handLimitBpm,
  leftHandLimitBpm,
  ownNotesLimitBpm,
  setOfNotes,
  unionOf,
  type AllowedFamily,
  type ChordSymbol,
  type Key,
  type Lesson,
  type Midi,
  type PitchClassSet,
  type Position,
} from '@fivespan/core';
import { markOf, placeMarks, shapeMarks } from '@fivespan/formats/diagram';

/** Where the hand is: what play view shows. */
export interface HandPlace {
  readonly position: Position;
  readonly thumbMidi: Midi;
  /** Behind the thumb's name, to tell shapes apart as the lesson's pages do; empty for the one used most. */
  readonly mark: string;
}

/** A bar of the form as it is played, repeats written out. */
export interface FormBar {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** As the chart counts it, from 1. */
  readonly number: number;
  /** Which time this written bar is played, from 1, and how many times it is in all. */
  readonly pass: number;
  readonly passes: number;
  /** The section's name; null where the chart names none. */
  readonly section: string | null;
  readonly startsSection: boolean;
  /** What is written in it, in order. */
  readonly chords: readonly ChordSymbol[];
  /** Whether it holds the same as the bar before in its section: a chart writes a sign for that. */
  readonly isAsBefore: boolean;
}

/** A family that a free hand may go to. */
export interface FormFamily extends Pick<AllowedFamily, 'which' | 'positions'> {
  /** Behind its thumbs' names, to tell shapes apart. */
  readonly mark: string;
  /** All notes of its positions. */
  readonly inside: PitchClassSet;
  /** Notes in it that must not stay. */
  readonly avoid: PitchClassSet;
}

export interface FormSlot {
  readonly startTicks: number;
  readonly endTicks: number;
  readonly chord: ChordSymbol;
  /** Null where nothing is to be played. */
  readonly hand: HandPlace | null;
  /** Where a free hand may go: none where nothing is to be played. */
  readonly families: readonly FormFamily[];
}

/** One time through the tune in one key, as play view needs it. Ticks from the first full bar; a pickup is left out. */
export interface FormView {
  readonly key: Key;
  readonly bars: readonly FormBar[];
  readonly slots: readonly FormSlot[];
  /** The fastest tempi at which a hand comes in time: through its written bars, from position to position, through the bass. */
  readonly limitsBpm: { readonly written: number; readonly own: number; readonly leftHand: number };
}

/** What play view shows of a lesson. */
export function formViewOf(lesson: Lesson): FormView {
  const { analysis, plan } = lesson;
  const { form, key } = analysis;
  const bars = form.bars.filter(({ startTicks }) => startTicks >= 0);
  const passes = new Map<string, number>();
  for (const { bar } of bars) passes.set(bar.id, (passes.get(bar.id) ?? 0) + 1);
  const markOfPlace = placeMarks(lesson);
  const { pins, hand } = lesson.choices;
  const allowed = plan.slots.map(allowedFamilies(pins.plan, hand));
  const marks = shapeMarks(
    lesson,
    allowed.flatMap((each) => each.map(({ family }) => family.shape)),
  );
  const familiesAt = (index: number): FormFamily[] =>
    (allowed[index] ?? []).map(({ which, positions, family, chordScale }) => ({
      which,
      positions,
      mark: markOf(marks, family.shape),
      inside: positions.reduce((union, { set }) => unionOf(union, set), 0 as PitchClassSet),
      avoid: setOfNotes(chordScale.avoid.map(({ note }) => note)),
    }));
  const chordsIn = ({ startTicks, bar: { durationTicks } }: (typeof bars)[number]): ChordSymbol[] =>
    plan.slots.flatMap(({ analysed: { played } }) =>
      played.startTicks >= startTicks && played.startTicks < startTicks + durationTicks ? [played.slot.chord] : [],
    );
  const chords = bars.map(chordsIn);
  const isAsBefore = (index: number): boolean =>
    bars[index - 1]?.section.id === bars[index]?.section.id &&
    JSON.stringify(chords[index - 1]) === JSON.stringify(chords[index]);
  return {
    key,
    limitsBpm: {
      written: handLimitBpm(lesson),
      own: ownNotesLimitBpm(lesson),
      leftHand: leftHandLimitBpm(lesson),
    },
    bars: bars.map(({ startTicks, bar, section, pass }, index) => ({
      startTicks,
      durationTicks: bar.durationTicks,
      number: bar.number,
      pass,
      passes: passes.get(bar.id) ?? 1,
      section: section.name,
      startsSection: index === 0 || bars[index - 1]?.section.id !== section.id || section.bars[0]?.id === bar.id,
      chords: chords[index] as ChordSymbol[],
      isAsBefore: isAsBefore(index),
    })),
    slots: plan.slots
      .map((slot, index) => ({ ...slot, families: familiesAt(index) }))
      .filter(({ analysed }) => analysed.played.startTicks >= 0)
      .map(({ analysed: { played }, position, thumbMidi, families }) => ({
        startTicks: played.startTicks,
        endTicks: played.endTicks,
        chord: played.slot.chord,
        hand:
          position === null || thumbMidi === null
            ? null
            : { position, thumbMidi, mark: markOfPlace(position, thumbMidi) },
        families,
      })),
  };
}

/** Whether the hand need not move from one place to the other. */
export function isSamePlace(a: HandPlace | null, b: HandPlace | null): boolean {
  if (a === null || b === null) return a === b;
  return a.thumbMidi === b.thumbMidi && a.position.shape.id === b.position.shape.id;
}
