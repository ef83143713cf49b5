import { movedSymbol } from '../parts/index.ts';
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
});

const movedNotes = (pin: NotePin, semitones: number): NotePin => ({
  ...pin,
  over: movedSymbol(pin.over, semitones),
  notes: pin.notes.map((note) => ({ ...note, key: note.key + semitones })),
});

function movedPins({ analysis, plan, parts }: Pins, semitones: number): Pins {
  return {
    analysis: { ...analysis, regions: analysis.regions.map((pin) => movedRegion(pin, semitones)) },
    plan: { ...plan, positions: plan.positions.map((pin) => movedPosition(pin, semitones)) },
    parts: {
      ...parts,
      voicings: parts.voicings.map((pin) => movedVoicing(pin, semitones)),
      notes: parts.notes.map((pin) => movedNotes(pin, semitones)),
    },
  };
}

/** A teacher's pins in another key: they name slots and rungs, which stay, and keys and thumbs, which move. */
export function transposePins(pins: Pins, from: Key, to: Key): Pins {
  const semitones = nearestSemitones(from, to);
  return semitones === 0 ? pins : movedPins(pins, semitones);
}

/**
 * Changes pins where they are seen, in another key than they are kept in. What the change leaves alone stays as it is kept, byte
 * for byte; what it puts in is moved home.
 * @param from the key they are kept in: the chart's as written
 * @param to the key they are seen in
 */
export function changePinsInKey(kept: Pins, from: Key, to: Key, change: (seen: Pins) => Pins): Pins {
  const semitones = nearestSemitones(from, to);
  if (semitones === 0) return change(kept);
  const seen = movedPins(kept, semitones);
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
