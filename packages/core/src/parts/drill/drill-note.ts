import type { Reason } from '../../analysis/index.ts';
import { keysOf, type Finger, type Position } from '../../hand/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import {
  guideTonesOf,
  midi,
  noteAbove,
  pitchAt,
  pitchClassOf,
  setOfNotes,
  type Midi,
  type NoteName,
} from '../../theory/index.ts';
import { degreeOver } from '../chorus/key-place.ts';
import { cellTicksOf } from '../chorus/pulse.ts';
import type { HandNote } from '../note.ts';
import { isHeld, type HeldSlot } from './passage.ts';

/** What a note is over its chord. */
export type DrillReasonCode =
  | 'drill.guide-tone'
  | 'drill.chord-tone'
  | 'drill.tension'
  // an avoid note
  | 'drill.rubs'
  | 'drill.outside-note';

const holds = (notes: readonly NoteName[], note: NoteName): boolean =>
  (setOfNotes(notes) & (1 << pitchClassOf(note))) !== 0;

/** Whether a note is one of the chord's tones, as its chord-scale counts them. */
export function isToneOf({ chordScale }: HeldSlot, note: NoteName): boolean {
  return holds(chordScale.chordTones, note);
}

/** Whether a note rubs over its chord. */
export function rubsOver({ chordScale }: HeldSlot, note: NoteName): boolean {
  return chordScale.avoid.some((each) => pitchClassOf(each.note) === pitchClassOf(note));
}

/** What a note is over the chord of its slot. */
export function reasonOver(slot: PlannedSlot, note: NoteName): Reason {
  const { chord } = slot.analysed;
  if (chord === null || !isHeld(slot)) return { code: 'drill.outside-note', args: { degree: '', chord: '' } };
  const args = { degree: degreeOver(chord, note), chord: chord.symbol };
  const code = (): DrillReasonCode => {
    if (rubsOver(slot, note)) return 'drill.rubs';
    if (
      holds(
        guideTonesOf(chord).map((each) => noteAbove(chord.root, each)),
        note,
      )
    )
      return 'drill.guide-tone';
    if (isToneOf(slot, note)) return 'drill.chord-tone';
    return holds(slot.chordScale.tensions, note) ? 'drill.tension' : 'drill.outside-note';
  };
  return { code: code(), args };
}

/** The steps in which a slot's bar moves: eighths, or a third of a dotted beat. */
export function cellOf({ analysed }: PlannedSlot): number {
  return cellTicksOf(analysed.played.playedBar.bar.meter);
}

/** A note under a finger of a position whose thumb is on a key. */
export function noteUnder(
  slot: HeldSlot,
  finger: Finger,
  startTicks: number,
  durationTicks: number,
  place: { readonly position: Position; readonly thumbMidi: Midi } = slot,
): HandNote {
  const { position, thumbMidi } = place;
  const name = position.notes[finger - 1] as NoteName;
  const key = keysOf(position, thumbMidi)[finger - 1] as Midi;
  return {
    startTicks,
    durationTicks,
    pitch: pitchAt(name, key),
    slotIndex: slot.analysed.played.index,
    why: reasonOver(slot, name),
    finger,
    position,
  };
}

/** Fingers in turn, a cell each, from a slot's start to its end; begun again where they are through. */
export function fingersThrough(slot: HeldSlot, fingers: readonly Finger[], stepTicks = cellOf(slot)): HandNote[] {
  const { startTicks, endTicks } = slot.analysed.played;
  const notes: HandNote[] = [];
  for (let ticks = startTicks, step = 0; ticks < endTicks; ticks += stepTicks, step++) {
    const finger = fingers[step % fingers.length] as Finger;
    notes.push(noteUnder(slot, finger, ticks, Math.min(stepTicks, endTicks - ticks)));
  }
  return notes;
}

/** The finger on a chord tone that lies nearest to one, the lower of two. */
export function nearestTone(slot: HeldSlot, finger: Finger): Finger | undefined {
  const tones = ([1, 2, 3, 4, 5] as const).filter((each) => isToneOf(slot, slot.position.notes[each - 1] as NoteName));
  return tones.toSorted((a, b) => Math.abs(a - finger) - Math.abs(b - finger) || a - b)[0];
}

/** The key of a thumb that lies nearest to where the hand is, the lower of two. */
export function nearestThumb(thumb: NoteName, near: Midi): Midi {
  const below = near - ((near - pitchClassOf(thumb) + 120) % 12);
  return midi(near - below <= below + 12 - near ? below : below + 12);
}

/** The slot with the hand in another position. */
export function inPosition(slot: HeldSlot, position: Position, thumbMidi: Midi): HeldSlot {
  return { ...slot, position, thumbMidi };
}
