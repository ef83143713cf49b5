import type { PlannedSlot } from '../../plan/index.ts';
import { pitchClassOf } from '../../theory/index.ts';
import type { PassageBar, SourceBar } from './drill-kind.ts';

/** The bars as they are, chord by chord in time. */
export function barsInTime(bars: readonly SourceBar[]): PassageBar[] {
  return bars.map((source) => ({
    source,
    slots: source.slots.map((slot) => {
      const { startTicks, endTicks } = slot.analysed.played;
      return { slot, startTicks: startTicks - source.playedBar.startTicks, durationTicks: endTicks - startTicks };
    }),
  }));
}

/** A bar with one chord from end to end. */
export function barOver(source: SourceBar, slot: PlannedSlot): PassageBar {
  return { source, slots: [{ slot, startTicks: 0, durationTicks: source.playedBar.bar.durationTicks }] };
}

/** A slot in which the hand is somewhere. */
export interface HeldSlot extends PlannedSlot {
  readonly chordScale: NonNullable<PlannedSlot['chordScale']>;
  readonly family: NonNullable<PlannedSlot['family']>;
  readonly position: NonNullable<PlannedSlot['position']>;
  readonly thumbMidi: NonNullable<PlannedSlot['thumbMidi']>;
}

export function isHeld(slot: PlannedSlot): slot is HeldSlot {
  const { analysed, chordScale, family, position, thumbMidi } = slot;
  return analysed.chord !== null && chordScale !== null && family !== null && position !== null && thumbMidi !== null;
}

/** A chord to be drilled by itself, with the bar it comes from. */
export interface DrilledChord {
  readonly source: SourceBar;
  readonly slot: HeldSlot;
}

/** What makes two chords one to the hand: symbol, chord-scale and place. */
function signOf({ analysed, chordScale, position, thumbMidi }: HeldSlot): string {
  const { symbol } = analysed.played.slot.chord;
  return `${symbol} ${chordScale.id} ${position.shape.id} ${pitchClassOf(position.thumb)} ${thumbMidi}`;
}

/** Every chord of the bars over which the hand is somewhere, each once, in the order they come. */
export function eachChordOnce(bars: readonly SourceBar[]): DrilledChord[] {
  const met = new Set<string>();
  return bars.flatMap((source) =>
    source.slots.filter(isHeld).flatMap((slot) => {
      const sign = signOf(slot);
      if (met.has(sign)) return [];
      met.add(sign);
      return [{ source, slot }];
    }),
  );
}
