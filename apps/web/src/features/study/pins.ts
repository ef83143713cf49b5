import {
  containsSet,
  planPinIssues,
  type Choices,
  type ChordScale,
  type Issue,
  type Key,
  type Position,
} from '@fivespan/core';
import { $open, changeLesson } from '../open-lesson/index.ts';
import { isSameSlot, type SlotName, type Study } from './study.ts';

type Pins = Choices['pins'];

/** What is fixed at one chord. */
export interface PinsOfSlot {
  readonly chordScale: string | null;
  readonly position: { readonly shape: string; readonly thumbMidi: number } | null;
  readonly key: Key | null;
  readonly numeral: string | null;
}

/** The kinds of things a teacher fixes, from the smallest to the largest. */
export const PIN_KINDS = ['position', 'chord-scale', 'numeral', 'key'] as const;
export type PinKind = (typeof PIN_KINDS)[number];

/** What is fixed at a chord, by the choices as they are. */
export function pinsAt({ analysis, plan }: Pins, name: SlotName): PinsOfSlot {
  const at = (pin: SlotName): boolean => isSameSlot(pin, name);
  const position = plan.positions.findLast(at);
  return {
    chordScale: plan.chordScales.findLast(at)?.chordScale ?? null,
    position: position === undefined ? null : { shape: position.shape, thumbMidi: position.thumbMidi },
    key: analysis.regions.findLast(at)?.key ?? null,
    numeral: analysis.numerals.findLast(at)?.numeral ?? null,
  };
}

/** Whether anything is fixed at a chord. */
export function isPinned(pins: Pins, name: SlotName): boolean {
  const { analysis, plan } = pins;
  return [...plan.chordScales, ...plan.positions, ...analysis.regions, ...analysis.numerals].some((pin) =>
    isSameSlot(pin, name),
  );
}

function without<Pin extends SlotName>(pins: readonly Pin[], name: SlotName): Pin[] {
  return pins.filter((pin) => !isSameSlot(pin, name));
}

function changePins(change: (pins: Pins) => Pins): void {
  const open = $open.get();
  if (open !== null) changeLesson({ choices: { pins: change(open.choices.pins) } });
}

/** Fixes a chord-scale at a chord. A position that was fixed there and does not lie in it is let go. */
export function pinChordScale(name: SlotName, chordScale: ChordScale, position: Position | null): void {
  changePins(({ analysis, plan }) => ({
    analysis,
    plan: {
      chordScales: [...without(plan.chordScales, name), { ...name, chordScale: chordScale.id }],
      positions:
        position !== null && containsSet(chordScale.set, position.set) ? plan.positions : without(plan.positions, name),
    },
  }));
}

/** Fixes where the hand lies at a chord, and the chord-scale it lies in. */
export function pinPosition(name: SlotName, chordScale: ChordScale, shape: string, thumbMidi: number): void {
  changePins(({ analysis, plan }) => ({
    analysis,
    plan: {
      chordScales: [...without(plan.chordScales, name), { ...name, chordScale: chordScale.id }],
      positions: [...without(plan.positions, name), { ...name, shape, thumbMidi }],
    },
  }));
}

/** Fixes the key from a chord on, up to the next chord where one is fixed. */
export function pinKey(name: SlotName, key: Key): void {
  changePins(({ analysis, plan }) => ({
    analysis: { ...analysis, regions: [...without(analysis.regions, name), { ...name, key }] },
    plan,
  }));
}

/** Fixes how a chord is read. */
export function pinNumeral(name: SlotName, numeral: string): void {
  changePins(({ analysis, plan }) => ({
    analysis: { ...analysis, numerals: [...without(analysis.numerals, name), { ...name, numeral }] },
    plan,
  }));
}

/** Takes a pin off. */
export function unpin(name: SlotName, kind: PinKind): void {
  changePins(({ analysis, plan }) => ({
    analysis: {
      regions: kind === 'key' ? without(analysis.regions, name) : analysis.regions,
      numerals: kind === 'numeral' ? without(analysis.numerals, name) : analysis.numerals,
    },
    plan: {
      chordScales: kind === 'chord-scale' ? without(plan.chordScales, name) : plan.chordScales,
      positions: kind === 'position' ? without(plan.positions, name) : plan.positions,
    },
  }));
}

/** Takes every pin off. */
export function unpinAll(): void {
  changePins(() => ({ analysis: { regions: [], numerals: [] }, plan: { chordScales: [], positions: [] } }));
}

/** Pins that cannot be obeyed, or are obeyed with a warning. */
export function issuesOfPins({ lesson }: Study): readonly Issue[] {
  const { analysis, choices } = lesson;
  return planPinIssues(analysis, choices.pins.plan, choices.hand, choices.pins.analysis);
}
