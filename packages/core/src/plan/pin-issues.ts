import {
  NO_ANALYSIS_PINS,
  type AnalysedSlot,
  type Analysis,
  type AnalysisPins,
  type ChordScale,
} from '../analysis/index.ts';
import { findShape, reachOf, type HandSize } from '../hand/index.ts';
import type { Issue } from '../issue/index.ts';
import { formatNoteName, midi, modulo, pitchClass, spellingsOf, type NoteName } from '../theory/index.ts';
import { fits, HIGHEST_PINNED_THUMB, pinsOf } from './pinned.ts';
import type { PlanPins } from './plan.ts';

/**
 * What is wrong with pins, as warnings: a slot that the chart no longer has, a numeral the chord cannot have, a chord-scale that is not in the slot's ladder, a
 * shape nobody knows, a thumb off the keyboard, a position that no chord-scale of the chord holds, a position out of the hand's reach (it is obeyed all the same). Such
 * pins but the last are left out of the plan.
 */
export function planPinIssues(
  analysis: Analysis,
  pins: PlanPins,
  hand: HandSize,
  analysisPins: AnalysisPins = NO_ANALYSIS_PINS,
): Issue[] {
  const slotOf = (pin: { readonly slot: string; readonly pass: number }) =>
    analysis.slots.find(({ played }) => played.slot.id === pin.slot && played.playedBar.pass === pin.pass);
  const issues: Issue[] = [];
  const add = (code: Issue['code'], args: Issue['args'], bar: number | undefined): void => {
    issues.push({ code, args, place: bar === undefined ? {} : { bar } });
  };
  for (const pin of [...analysisPins.regions, ...analysisPins.numerals]) {
    if (slotOf(pin) === undefined) add('plan.pin-lost', { slot: pin.slot, pass: pin.pass }, undefined);
  }
  for (const pin of analysisPins.numerals) {
    const slot = slotOf(pin);
    if (slot === undefined || slot.reading.numeral === pin.numeral) continue;
    const known = [slot.reading, ...slot.alternatives.map(({ reading }) => reading)].map(({ numeral }) => numeral);
    const chord = slot.played.slot.chord.symbol;
    add('plan.pin-numeral', { numeral: pin.numeral, chord, known: known.join(', ') }, slot.played.playedBar.bar.number);
  }
  for (const pin of [...pins.chordScales, ...pins.secondScales]) {
    const slot = slotOf(pin);
    const bar = slot?.played.playedBar.bar.number;
    if (slot === undefined) add('plan.pin-lost', { slot: pin.slot, pass: pin.pass }, bar);
    else if (!slot.chordScales.some((each) => each.id === pin.chordScale)) {
      const known = slot.chordScales.map((each) => each.id).join(', ');
      add('plan.pin-chord-scale', { chordScale: pin.chordScale, chord: slot.played.slot.chord.symbol, known }, bar);
    }
  }
  const chordScaleOf = (slot: AnalysedSlot): ChordScale | null => pinsOf(slot, pins).chordScale;
  for (const pin of pins.positions) {
    const slot = slotOf(pin);
    const bar = slot?.played.playedBar.bar.number;
    const shape = findShape(pin.shape);
    if (slot === undefined) add('plan.pin-lost', { slot: pin.slot, pass: pin.pass }, bar);
    else if (shape === undefined) add('plan.pin-shape', { shape: pin.shape }, bar);
    else if (!(Number.isInteger(pin.thumbMidi) && pin.thumbMidi >= 0 && pin.thumbMidi <= HIGHEST_PINNED_THUMB)) {
      add('plan.pin-thumb', { thumb: pin.thumbMidi, highest: HIGHEST_PINNED_THUMB }, bar);
    } else if (!fits({ shape, thumbMidi: midi(pin.thumbMidi) }, slot, chordScaleOf(slot))) {
      const chord = slot.played.slot.chord.symbol;
      const scale = chordScaleOf(slot);
      const over = scale === null ? chord : `${formatNoteName(scale.scale.root)} ${scale.name} over ${chord}`;
      add('plan.pin-fit', { shape: shape.name, thumb: simplestName(pin.thumbMidi), chord, over, pass: pin.pass }, bar);
    } else if (reachOf(shape, pitchClass(modulo(pin.thumbMidi, 12)), hand).verdict === 'out of reach') {
      add('plan.pin-reach', { shape: shape.name }, bar);
    }
  }
  return issues;
}

/** A key by its plain name: the flat one of two. */
function simplestName(thumbMidi: number): string {
  return formatNoteName(spellingsOf(pitchClass(thumbMidi), 1)[0] as NoteName);
}
