import { inBassRange, LINE_RULES, movedPhrase, movedSymbol, type BassRange, type Phrase } from '../parts/index.ts';
import { modulo, pitchClass, pitchClassOf, usualKey, type Key } from '../theory/index.ts';
import type { Choices } from './lesson.ts';

type Pins = Choices['pins'];
type RegionPin = Pins['analysis']['regions'][number];
type PositionPin = Pins['plan']['positions'][number];
type VoicingPin = Pins['parts']['voicings'][number];
type NotePin = Pins['parts']['notes'][number];

/** Semitones up or down from one tonic to another, the nearer way: −5 to 6. */
export function nearestSemitones(from: Key, to: Key): number {
  return modulo(pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 5, 12) - 5;
}

const movedRegion = (pin: RegionPin, semitones: number): RegionPin => ({
  ...pin,
  key: usualKey(pitchClass(pitchClassOf(pin.key.tonic) + semitones), pin.key.mode),
});

const movedPosition = (pin: PositionPin, semitones: number): PositionPin => ({
  ...pin,
  thumbMidi: pin.thumbMidi + semitones,
});

const movedVoicing = (pin: VoicingPin, semitones: number): VoicingPin => ({
  ...pin,
  keys: pin.keys.map((each) => each + semitones),
  ...(pin.own === undefined ? {} : { own: { ...pin.own, over: movedSymbol(pin.own.over, semitones) } }),
});

const movedNotes = (pin: NotePin, semitones: number): NotePin => ({
  ...pin,
  over: movedSymbol(pin.over, semitones),
  notes: pin.notes.map((note) => ({ ...note, key: note.key + semitones })),
});

/** A line's notes in another key: the bass by octaves within the range it is played in. */
function seenNotes(pin: NotePin, semitones: number, range: BassRange): NotePin {
  const moved = movedNotes(pin, semitones);
  return LINE_RULES[pin.part].inBassRange ? { ...moved, notes: inBassRange(pin.notes, moved.notes, range) } : moved;
}

function movedPins({ analysis, plan, parts }: Pins, semitones: number, range: BassRange): Pins {
  return {
    analysis: { ...analysis, regions: analysis.regions.map((pin) => movedRegion(pin, semitones)) },
    plan: { ...plan, positions: plan.positions.map((pin) => movedPosition(pin, semitones)) },
    parts: {
      ...parts,
      voicings: parts.voicings.map((pin) => movedVoicing(pin, semitones)),
      notes: parts.notes.map((pin) => seenNotes(pin, semitones, range)),
    },
  };
}

/**
 * A teacher's pins in another key: they name slots and rungs, which stay, and keys and thumbs, which move.
 * @param range what the bass stays within there
 */
export function transposePins(pins: Pins, from: Key, to: Key, range: BassRange): Pins {
  const semitones = nearestSemitones(from, to);
  return semitones === 0 ? pins : movedPins(pins, semitones, range);
}

/**
 * Changes pins where they are seen, in another key than they are kept in. What the change leaves alone stays as it is kept, byte
 * for byte; what it puts in is moved home.
 * @param from the key they are kept in: the chart's as written; `to` the one they are seen in; `range` the bass's
 */
export function changePinsInKey(
  kept: Pins,
  { from, to, range }: { readonly from: Key; readonly to: Key; readonly range: BassRange },
  change: (seen: Pins) => Pins,
): Pins {
  const semitones = nearestSemitones(from, to);
  if (semitones === 0) return change(kept);
  const seen = movedPins(kept, semitones, range);
  const regions = new Map(seen.analysis.regions.map((pin, index) => [pin, kept.analysis.regions[index]]));
  const positions = new Map(seen.plan.positions.map((pin, index) => [pin, kept.plan.positions[index]]));
  const voicings = new Map(seen.parts.voicings.map((pin, index) => [pin, kept.parts.voicings[index]]));
  const notes = new Map(seen.parts.notes.map((pin, index) => [pin, kept.parts.notes[index]]));
  const { analysis, plan, parts } = change(seen);
  return {
    analysis: {
      ...analysis,
      regions: analysis.regions.map((pin) => regions.get(pin) ?? movedRegion(pin, -semitones)),
    },
    plan: {
      ...plan,
      positions: plan.positions.map((pin) => positions.get(pin) ?? movedPosition(pin, -semitones)),
    },
    parts: {
      ...parts,
      voicings: parts.voicings.map((pin) => voicings.get(pin) ?? movedVoicing(pin, -semitones)),
      notes: parts.notes.map((pin) => notes.get(pin) ?? movedNotes(pin, -semitones)),
    },
  };
}

/** Notes written where a lesson is seen, as they are kept: in the key of the chart as written. */
export function unmovedNotes(pins: readonly NotePin[], from: Key, to: Key): readonly NotePin[] {
  const semitones = nearestSemitones(from, to);
  return semitones === 0 ? pins : pins.map((pin) => movedNotes(pin, -semitones));
}

/** A kept phrase in the key a lesson is seen in. */
export function transposePhrase(phrase: Phrase, from: Key, to: Key): Phrase {
  return movedPhrase(phrase, nearestSemitones(from, to));
}

/** A phrase taken where a lesson is seen, as it is kept: in the key of the chart as written. */
export function unmovedPhrase(phrase: Phrase, from: Key, to: Key): Phrase {
  return movedPhrase(phrase, -nearestSemitones(from, to));
}
