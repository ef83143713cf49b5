import { bestFingerings, fingeringModel, type Finger } from '../../hand/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import {
  degree,
  guideTonesOf,
  midi,
  nameOver,
  pitchAt,
  pitchClassOf,
  type Chord,
  type Degree,
  type Midi,
  type NoteName,
} from '../../theory/index.ts';
import type { HandNote } from '../note.ts';
import type { DrillKind } from './drill-kind.ts';
import { reasonOver } from './drill-note.ts';
import { barsInTime, isHeld, type HeldSlot } from './passage.ts';

/** Keys the two lines keep within: over the walking bass, in the middle of the treble staff. Our own. */
const LOWEST_KEY = 57;
const HIGHEST_KEY = 77;
/** Where the lower line begins: about middle C. */
const FIRST_KEY = 61;

const [ROOT, FIFTH] = [degree('1'), degree('5')];

/** Two tones that say what a chord is: its guide tones; a triad's third and root, a power chord's fifth and root. */
export function twoTones(chord: Chord): readonly [Degree, Degree] {
  const [first = chord.degrees.includes(FIFTH) ? FIFTH : (chord.degrees[1] ?? ROOT), second = ROOT] =
    guideTonesOf(chord);
  return [first, second];
}

interface Tone {
  readonly name: NoteName;
  readonly key: Midi;
}

/** The key of a sound nearest to one, within the lines' keys; the lower of two. */
function nearestKey(sound: number, near: number): Midi {
  const keys: number[] = [];
  for (let key = LOWEST_KEY + ((sound - LOWEST_KEY + 120) % 12); key <= HIGHEST_KEY; key += 12) keys.push(key);
  return midi(keys.toSorted((a, b) => Math.abs(a - near) - Math.abs(b - near) || a - b)[0] as number);
}

/**
 * Two lines through the chords, each tone going to the nearest of the next chord's two. Their way is found in the key of home and moved
 * whole, so that it is the same in every key.
 * @param semitones how far this key is above home's
 */
function twoLines(slots: readonly HeldSlot[], semitones: number): (readonly [Tone, Tone])[] {
  const lines = linesAtHome(slots, semitones);
  const moved = semitones + 12 * octavesFor(lines.flat().map(({ key }) => key + semitones));
  return lines.map(([low, high]) => [
    { ...low, key: midi(low.key + moved) },
    { ...high, key: midi(high.key + moved) },
  ]);
}

/** The octaves by which moved lines leave the lines' keys least; the upper of two, away from the bass. */
function octavesFor(keys: readonly number[]): number {
  const beyond = (octaves: number): number =>
    Math.max(0, ...keys.flatMap((key) => [LOWEST_KEY - key - 12 * octaves, key + 12 * octaves - HIGHEST_KEY]));
  return [1, 0, -1].toSorted((a, b) => beyond(a) - beyond(b))[0] as number;
}

/** The lines with the names of this key, on the keys of home. */
function linesAtHome(slots: readonly HeldSlot[], semitones: number): (readonly [Tone, Tone])[] {
  let before: readonly [number, number] = [FIRST_KEY, FIRST_KEY + 5];
  return slots.map(({ analysed: { chord, reading } }) => {
    const names = twoTones(chord as Chord).map((each) => nameOver(chord as Chord, each, reading.key));
    const toneAt = (name: NoteName, near: number): Tone => ({
      name,
      key: nearestKey(pitchClassOf(name) - semitones, near),
    });
    const [one, other] = names as [NoteName, NoteName];
    const ways = (
      [
        [one, other],
        [other, one],
      ] as const
    ).map(([low, high]) => [toneAt(low, before[0]), toneAt(high, before[1])] as const);
    const cost = ([low, high]: readonly [Tone, Tone]): number =>
      Math.abs(low.key - before[0]) + Math.abs(high.key - before[1]) + (low.key === high.key ? 24 : 0);
    const [best] = ways.toSorted((a, b) => cost(a) - cost(b));
    const chosen = best as readonly [Tone, Tone];
    before = [chosen[0].key, chosen[1].key];
    return chosen;
  });
}

/** A line of strikes with fingers as the fingering model finds them. */
function fingered(slots: readonly HeldSlot[], strikes: readonly (readonly Tone[])[]): HandNote[] {
  const ascending = strikes.map((strike) => strike.toSorted((a, b) => a.key - b.key));
  const found = bestFingerings(
    ascending.map((strike) => strike.map(({ key }) => key)),
    { side: 'right', model: fingeringModel('fivespan') },
  );
  const fingers = found.ok ? (found.value[0]?.fingers ?? []) : [];
  return ascending.flatMap((strike, index) => {
    const slot = slots[index] as HeldSlot;
    const { startTicks, endTicks, index: slotIndex } = slot.analysed.played;
    return strike.map(({ name, key }, voice): HandNote => ({
      startTicks,
      durationTicks: endTicks - startTicks,
      pitch: pitchAt(name, key),
      slotIndex,
      why: reasonOver(slot, name),
      finger: (fingers[index]?.[voice] ?? 1) as Finger,
      position: slot.position,
    }));
  });
}

const VOICES = { lower: [0], upper: [1], both: [0, 1] } as const;

function write(slots: readonly PlannedSlot[], voices: readonly (0 | 1)[], semitones: number): HandNote[] {
  const held = slots.filter(isHeld);
  const lines = twoLines(held, semitones);
  return fingered(
    held,
    lines.map((tones) => {
      const chosen = voices.map((voice) => tones[voice]);
      // two tones on one key are struck once
      return chosen.filter((tone, index) => chosen.findIndex(({ key }) => key === tone.key) === index);
    }),
  );
}

/** Third and seventh of each chord, each to the nearest of the next: one line, the other, both. */
export const guideTones: DrillKind = {
  leftHand: 'walks the same each time',
  inPositions: false,
  passages: (bars, { semitones }) =>
    bars.some(({ slots }) => slots.some(isHeld))
      ? (Object.keys(VOICES) as (keyof typeof VOICES)[]).map((voice) => ({
          label: { code: 'drill.guide-line', args: { voice } },
          bars: barsInTime(bars),
          write: (slots) => write(slots, VOICES[voice], semitones),
        }))
      : [],
};
