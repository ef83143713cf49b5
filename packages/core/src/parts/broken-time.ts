import type { Analysis, AnalysedSlot } from '../analysis/index.ts';
import { TICKS_PER_QUARTER } from '../chart/index.ts';
import type { RandomSource } from '../random.ts';
import {
  degreeOnStep,
  formatNoteName,
  midi,
  midiOf,
  noteAbove,
  pitchAt,
  pitchClassOf,
  type Chord,
  type NoteName,
} from '../theory/index.ts';
import { contradictsThird } from './approach-note.ts';
import { BASS_KEYS } from './bass-line.ts';
import type { BassNote, BassRange } from './note.ts';

/** Of a hundred places: bars that break the even quarters, and ii–Vs over a pedal point. Our own. */
const BROKEN_PERCENT = 38;
const PEDAL_PERCENT = 50;
const TRIPLET_TICKS = TICKS_PER_QUARTER / 3;

/**
 * ii–Vs that stand on the dominant's root: both chords a bar long, and not the first time the ii is heard. The pedal's note by slot.
 * Common practice.
 */
export function pedalsOf({ slots }: Analysis, random: RandomSource): Map<number, NoteName> {
  const pedals = new Map<number, NoteName>();
  for (const [index, slot] of slots.entries()) {
    const next = slots[index + 1];
    if (!slot.reading.role.endsWith('predominant') || next?.reading.role.endsWith('dominant') !== true) continue;
    if (next.reading.role.endsWith('predominant') || slot.chord === null || next.chord === null) continue;
    const isBarLong = [slot, next].every(
      ({ played }) => played.endTicks - played.startTicks === played.playedBar.bar.durationTicks && played.beats >= 4,
    );
    if (!isBarLong || slot.chord.bass !== null || next.chord.bass !== null || pedals.has(index - 1)) continue;
    if (random.integer(100) >= PEDAL_PERCENT) continue;
    // the ear must know the chord that floats over the pedal
    if (!slots.slice(0, index).some(({ chord }) => chord?.symbol === slot.chord?.symbol)) continue;
    pedals.set(index, next.chord.root);
    pedals.set(index + 1, next.chord.root);
  }
  return pedals;
}

/** Root, third and fifth as a drop falls through them. */
function dropNames(chord: Chord): NoteName[] {
  const third = degreeOnStep(chord, 2);
  const fifth = degreeOnStep(chord, 4);
  return [
    chord.root,
    ...(third === undefined ? [] : [noteAbove(chord.root, third)]),
    ...(fifth === undefined ? [] : [noteAbove(chord.root, fifth)]),
  ];
}

/** A beat in triplets: the note, and two chord tones below it; undefined where the range has no room for them. */
function drop(note: BassNote, next: BassNote, chord: Chord, lowest: number): BassNote[] | undefined {
  const top = midiOf(note.pitch);
  const below = dropNames(chord)
    .flatMap((name) => [0, 12].map((up) => ({ name, key: lowest + ((pitchClassOf(name) - lowest + 120) % 12) + up })))
    .filter(({ key }) => key < top && key >= top - 12)
    .sort((a, b) => b.key - a.key);
  const [second, third] = below;
  if (second === undefined || third === undefined || third.key === midiOf(next.pitch)) return undefined;
  const falling = [second, third].map(({ name, key }, index): BassNote => ({
    ...note,
    startTicks: note.startTicks + (index + 1) * TRIPLET_TICKS,
    durationTicks: TRIPLET_TICKS,
    pitch: pitchAt(name, midi(key)),
    function: 'drop',
    why: { code: 'bass.drop', args: { note: formatNoteName(name), chord: chord.symbol } },
  }));
  return [{ ...note, durationTicks: TRIPLET_TICKS }, ...falling];
}

/** A beat struck again on its off-beat. */
function skip(note: BassNote): BassNote[] {
  const half = note.durationTicks / 2;
  const again: BassNote = {
    ...note,
    startTicks: note.startTicks + half,
    durationTicks: half,
    function: 'skip',
    why: { code: 'bass.skip', args: { note: formatNoteName(note.pitch.name) } },
  };
  return [{ ...note, durationTicks: half }, again];
}

/**
 * Breaks the even quarters of some bars, never two running: a beat struck again off the beat, a drop in triplets through the chord, or
 * a note held over the next beat. What begins a chord or leads into one keeps its place.
 */
export function breakTime(
  { slots }: Analysis,
  line: readonly BassNote[],
  range: BassRange,
  random: RandomSource,
): BassNote[] {
  const broken: BassNote[] = [];
  let bar = Number.NaN;
  let before = false;
  let kind: 'none' | 'skip' | 'drop' | 'hold' = 'none';
  for (let index = 0; index < line.length; index++) {
    const note = line[index] as BassNote;
    const next = line[index + 1];
    const { played, chord } = slots[note.slotIndex] as AnalysedSlot;
    if (played.playedBar.startTicks !== bar) {
      bar = played.playedBar.startTicks;
      const breaks: boolean = !before && random.integer(100) < BROKEN_PERCENT;
      kind = breaks ? ((['skip', 'drop', 'hold'] as const)[random.integer(3)] ?? 'skip') : 'none';
      before = breaks;
    }
    const isPlain = note.durationTicks === TICKS_PER_QUARTER && note.function !== 'pedal' && chord !== null;
    const isFirst = note.startTicks === played.startTicks;
    const goesOn = next !== undefined && next.slotIndex === note.slotIndex;
    const mayHold =
      goesOn && !['approach', 'enclosure'].includes(next.function) && next.durationTicks === TICKS_PER_QUARTER;
    const after = line[index + 2];
    const staysApart = after === undefined || midiOf(after.pitch) !== midiOf(note.pitch);
    // a chromatic climb keeps its steps
    const climbs = [next, after].some(
      (each) => each?.function === 'approach' && chord !== null && contradictsThird(chord, each.pitch.name),
    );
    let made: BassNote[] | undefined;
    if (isPlain && goesOn && kind === 'skip' && isFirst) made = skip(note);
    if (
      isPlain &&
      goesOn &&
      kind === 'drop' &&
      !climbs &&
      !isFirst &&
      !['approach', 'enclosure', 'scale'].includes(note.function)
    )
      made = drop(note, next, chord, BASS_KEYS[range].lowest);
    if (isPlain && kind === 'hold' && !climbs && mayHold && isFirst && staysApart) {
      made = [{ ...note, durationTicks: 2 * TICKS_PER_QUARTER }];
      index++;
    }
    if (made !== undefined) kind = 'none';
    broken.push(...(made ?? [note]));
  }
  return broken;
}
