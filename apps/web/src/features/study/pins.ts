import {
  DEFAULT_CHOICES,
  changePinsInKey,
  containsSet,
  findShape,
  LINES,
  maskOf,
  notePinIssues,
  planPinIssues,
  transposeSet,
  voicingPinIssues,
  type Choices,
  type ChordScale,
  type Issue,
  type Key,
  type LineId,
  type PlannedSlot,
} from '@fivespan/core';
import { $made, $open, changeLesson } from '../open-lesson/index.ts';
import { heldAfter } from './held-slots.ts';
import { isSameSlot, nameOf, type SlotName, type Study } from './study.ts';

type Pins = Choices['pins'];

/** What is fixed at one chord. */
export interface PinsOfSlot {
  readonly chordScale: string | null;
  readonly position: { readonly shape: string; readonly thumbMidi: number } | null;
  readonly key: Key | null;
  readonly numeral: string | null;
  /** Of the ladder: whose family a free hand may go to besides. */
  readonly secondScale: string | null;
  /** The keys of a voicing, in the chart as written. */
  readonly voicing: readonly number[] | null;
  /** How many notes of their own the teacher wrote in each line there; null where it is composed. */
  readonly notes: Readonly<Record<LineId, number | null>>;
}

/** The kinds of things a teacher fixes, from the smallest to the largest. */
export const PIN_KINDS = [...LINES, 'voicing', 'position', 'second-scale', 'chord-scale', 'numeral', 'key'] as const;
export type PinKind = (typeof PIN_KINDS)[number];

/** What is fixed at a chord, by the choices as they are. */
export function pinsAt({ analysis, plan, parts }: Pins, name: SlotName): PinsOfSlot {
  const at = (pin: SlotName): boolean => isSameSlot(pin, name);
  const position = plan.positions.findLast(at);
  const written = (line: LineId): number | null =>
    parts.notes.findLast(({ part, ...pin }) => part === line && at(pin))?.notes.length ?? null;
  return {
    chordScale: plan.chordScales.findLast(at)?.chordScale ?? null,
    position: position === undefined ? null : { shape: position.shape, thumbMidi: position.thumbMidi },
    key: analysis.regions.findLast(at)?.key ?? null,
    numeral: analysis.numerals.findLast(at)?.numeral ?? null,
    secondScale: plan.secondScales.findLast(at)?.chordScale ?? null,
    voicing: parts.voicings.findLast(at)?.keys ?? null,
    notes: { chorus: written('chorus'), bass: written('bass') },
  };
}

/** Whether anything is fixed at a chord. */
export function isPinned(pins: Pins, name: SlotName): boolean {
  const { analysis, plan, parts } = pins;
  const all = [
    plan.chordScales,
    plan.positions,
    plan.secondScales,
    analysis.regions,
    analysis.numerals,
    parts.voicings,
    parts.notes,
  ].flat();
  return all.some((pin) => isSameSlot(pin, name));
}

function without<Pin extends SlotName>(pins: readonly Pin[], ...names: readonly SlotName[]): Pin[] {
  return pins.filter((pin) => !names.some((name) => isSameSlot(pin, name)));
}

/** The chord-scale pinned at a slot; null where none is. */
function scalePinAt({ plan }: Pins, name: SlotName): string | null {
  return plan.chordScales.findLast((pin) => isSameSlot(pin, name))?.chordScale ?? null;
}

/** Slots that follow a slot, hold its chord on and are pinned as it is, or not at all: what a teacher has fixed otherwise ends it. */
function heldLike(slots: readonly PlannedSlot[], index: number, pins: Pins, isOpen: boolean): readonly PlannedSlot[] {
  const own = slots[index];
  if (own === undefined) return [];
  const pinned = scalePinAt(pins, nameOf(own));
  const held = heldAfter(slots, index);
  const end = held.findIndex((slot) => {
    const there = scalePinAt(pins, nameOf(slot));
    return there !== pinned && !(isOpen && there === null);
  });
  return end < 0 ? held : held.slice(0, end);
}

/**
 * The slots a chord-scale's pin reaches over as one: the chord that is pinned, and where it goes on in the bars after it (`%`, or
 * the same chord once more). The slot of that name is among them wherever in the stretch it is; alone where it has no pin.
 */
export function stretchOfScalePin(slots: readonly PlannedSlot[], pins: Pins, name: SlotName): readonly PlannedSlot[] {
  const index = slots.findIndex((slot) => isSameSlot(nameOf(slot), name));
  const own = slots[index];
  if (own === undefined) return [];
  const pinned = scalePinAt(pins, name);
  if (pinned === null) return [own];
  const stretchFrom = (first: number): readonly PlannedSlot[] => [
    ...slots.slice(first, first + 1),
    ...heldLike(slots, first, pins, false),
  ];
  // the first slot whose stretch holds this one
  for (let first = 0; first < index; first++) {
    const slot = slots[first] as PlannedSlot;
    if (scalePinAt(pins, nameOf(slot)) !== pinned) continue;
    const stretch = stretchFrom(first);
    if (stretch.includes(own)) return stretch;
  }
  return stretchFrom(index);
}

/** Second chord-scales where they begin: one that goes on with its chord is not counted again. */
function secondsBegun(slots: readonly PlannedSlot[], { plan }: Pins): Pins['plan']['secondScales'] {
  const goesOn = (pin: Pins['plan']['secondScales'][number]): boolean =>
    plan.secondScales.some((other) => {
      const index = slots.findIndex((slot) => isSameSlot(nameOf(slot), other));
      const isAlike = other !== pin && other.chordScale === pin.chordScale && index >= 0;
      return isAlike && heldAfter(slots, index).some((slot) => isSameSlot(nameOf(slot), pin));
    });
  return plan.secondScales.filter((pin) => !goesOn(pin));
}

/** How many things are pinned: a chord-scale that is held over several bars is one. */
export function countPins({ plan: { slots } }: Study['lesson'], pins: Pins): number {
  const { analysis, plan, parts } = pins;
  const stretches = new Set(plan.chordScales.map((pin) => stretchOfScalePin(slots, pins, pin)[0] ?? pin));
  const single = [
    analysis.regions,
    analysis.numerals,
    plan.positions,
    secondsBegun(slots, pins),
    parts.voicings,
    parts.notes,
  ];
  return single.reduce((sum, { length }) => sum + length, stretches.size);
}

function liesIn({ shape, thumbMidi }: Pins['plan']['positions'][number], { set }: ChordScale): boolean {
  const found = findShape(shape);
  return found !== undefined && containsSet(set, transposeSet(maskOf(found), thumbMidi));
}

/** Changes the pins in the key they are seen in; they are kept in the one the chart is written in. */
export function changePins(change: (pins: Pins) => Pins): void {
  const open = $open.get();
  const lesson = $made.get()?.lesson;
  if (open === null || lesson === undefined) return;
  const { writtenKey, analysis } = lesson;
  const { pins, bass } = open.choices;
  const keys = { from: writtenKey, to: analysis.key, range: bass.range };
  changeLesson({ choices: { pins: changePinsInKey(pins, keys, change) } });
}

/**
 * The pins with a chord-scale fixed at a chord, and in the bars after it that hold the chord on and have it in their ladders.
 * Positions that were fixed there and do not lie in it are let go.
 */
function withScale(
  { slots }: Study['lesson']['plan'],
  index: number,
  { plan, ...pins }: Pins,
  scale: ChordScale,
): Pins {
  const own = slots[index] as PlannedSlot;
  const held = heldLike(slots, index, { plan, ...pins }, true);
  const end = held.findIndex(({ analysed }) => !analysed.chordScales.some((each) => each.id === scale.id));
  const names = [own, ...(end < 0 ? held : held.slice(0, end))].map(nameOf);
  return {
    ...pins,
    plan: {
      ...plan,
      chordScales: [
        ...without(plan.chordScales, ...names),
        ...names.map((name) => ({ ...name, chordScale: scale.id })),
      ],
      positions: plan.positions.filter((pin) => liesIn(pin, scale) || !names.some((name) => isSameSlot(pin, name))),
    },
  };
}

/** Fixes a chord-scale at the chosen chord, and where that chord only goes on after it. */
export function pinChordScale({ lesson, slotIndex }: Study, chordScale: ChordScale): void {
  changePins((pins) => withScale(lesson.plan, slotIndex, pins, chordScale));
}

/** Fixes where the hand is at the chosen chord, and the chord-scale it is in as `pinChordScale` does. */
export function pinPosition(study: Study, chordScale: ChordScale, shape: string, thumbMidi: number): void {
  const { lesson, slotIndex, name } = study;
  changePins((pins) => {
    const { plan, ...others } = withScale(lesson.plan, slotIndex, pins, chordScale);
    const positions = [...without(plan.positions, name), { ...name, shape, thumbMidi }];
    return { ...others, plan: { ...plan, positions } };
  });
}

/** The chosen chord, and where it only goes on after it. */
function namesFrom({ lesson, slotIndex, planned }: Study): readonly SlotName[] {
  return [planned, ...heldAfter(lesson.plan.slots, slotIndex)].map(nameOf);
}

/** Allows a free hand a second family at the chosen chord, and where it goes on, by its chord-scale; null allows the plan's own only. */
export function allowSecond(study: Study, chordScale: string | null): void {
  const names = namesFrom(study);
  changePins(({ plan, ...others }) => {
    const secondScales = without(plan.secondScales, ...names);
    const added = chordScale === null ? [] : names.map((name) => ({ ...name, chordScale }));
    return { ...others, plan: { ...plan, secondScales: [...secondScales, ...added] } };
  });
}

/** Fixes the key from a chord on, up to the next chord where one is fixed. */
export function pinKey(name: SlotName, key: Key): void {
  changePins(({ analysis, ...others }) => ({
    ...others,
    analysis: { ...analysis, regions: [...without(analysis.regions, name), { ...name, key }] },
  }));
}

/** Fixes how a chord is read. */
export function pinNumeral(name: SlotName, numeral: string): void {
  changePins(({ analysis, ...others }) => ({
    ...others,
    analysis: { ...analysis, numerals: [...without(analysis.numerals, name), { ...name, numeral }] },
  }));
}

/** Fixes the keys of a chord's voicing. */
export function pinVoicing(name: SlotName, keys: readonly number[]): void {
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: { ...parts, voicings: [...without(parts.voicings, name), { ...name, keys }] },
  }));
}

/** Takes a pin off the chosen chord: a chord-scale's off the whole stretch it is held over. */
export function unpin(study: Study, kind: PinKind): void {
  const { lesson, name } = study;
  changePins((pins) => {
    const { analysis, plan, parts } = pins;
    const held = stretchOfScalePin(lesson.plan.slots, pins, name).map(nameOf);
    return {
      analysis: {
        regions: kind === 'key' ? without(analysis.regions, name) : analysis.regions,
        numerals: kind === 'numeral' ? without(analysis.numerals, name) : analysis.numerals,
      },
      plan: {
        chordScales: kind === 'chord-scale' ? without(plan.chordScales, ...held, name) : plan.chordScales,
        positions: kind === 'position' ? without(plan.positions, name) : plan.positions,
        secondScales: kind === 'second-scale' ? without(plan.secondScales, ...namesFrom(study)) : plan.secondScales,
      },
      parts: {
        ...parts,
        voicings: kind === 'voicing' ? without(parts.voicings, name) : parts.voicings,
        notes: parts.notes.filter((pin) => pin.part !== kind || !isSameSlot(pin, name)),
      },
    };
  });
}

/** Takes every pin off. */
export function unpinAll(): void {
  changePins(() => DEFAULT_CHOICES.pins);
}

/** Pins that cannot be obeyed, or are obeyed with a warning. */
export function issuesOfPins({ lesson }: Study): readonly Issue[] {
  const { analysis, plan, choices } = lesson;
  return [
    ...planPinIssues(analysis, choices.pins.plan, choices.hand, choices.pins.analysis),
    ...voicingPinIssues(analysis, plan, choices.voicings, choices.pins.parts.voicings),
    ...notePinIssues(plan, choices.pins.parts.notes),
  ];
}
