import {
  bestFingerings,
  fingeringModel,
  type Finger,
  type FingerPin,
  type HandSize,
  type Position,
} from '../../hand/index.ts';
import type { Plan } from '../../plan/index.ts';
import { containsClass, midi, midiOf, pitchAt, pitchClass, type Midi } from '../../theory/index.ts';
import { chorusFaults } from '../chorus/chorus-faults.ts';
import type { ChorusNote } from '../chorus/chorus.ts';
import { PHRASE_GAP_TICKS, phrasesOf, SHORTEST_PHRASE_NOTES } from '../chorus/phrase.ts';
import { joinLine } from './join-line.ts';
import type { NotePin } from './note-pin.ts';
import { ownStretches, type NamedOwnNote } from './own-stretch.ts';

/** Octaves in which a stretch may lie in the hand's positions, the route's own first. */
const OCTAVES = [0, 1, -1, 2, -2] as const;

interface HandPlace {
  readonly position: Position;
  readonly thumbMidi: number;
}

/** Where the hand is over a slot; where it has no place there, at the nearest one that it has. */
function handAt({ slots }: Plan, slotIndex: number): HandPlace {
  for (let distance = 0; distance < slots.length; distance++) {
    for (const index of [slotIndex - distance, slotIndex + distance]) {
      const { position = null, thumbMidi = null } = slots[index] ?? {};
      if (position !== null && thumbMidi !== null) return { position, thumbMidi };
    }
  }
  throw new RangeError('plan must have a position');
}

/** The fingers of a stretch that is in the route's positions, all of it in one octave; undefined where it is not. */
function fingersInPosition(
  plan: Plan,
  notes: readonly NamedOwnNote[],
): { readonly fingers: readonly Finger[]; readonly octaves: number } | undefined {
  for (const octaves of OCTAVES) {
    const fingers = notes.map(({ slotIndex, key }) => {
      const { position, thumbMidi } = handAt(plan, slotIndex);
      return position.shape.steps.indexOf(key - thumbMidi - 12 * octaves) + 1;
    });
    if (fingers.every((each) => each > 0)) return { fingers: fingers as Finger[], octaves };
  }
  return undefined;
}

/** Fingers by the published cost, coming from and going on to fingers that are known. */
function fingersByCost(
  notes: readonly NamedOwnNote[],
  before: ChorusNote | undefined,
  after: ChorusNote | undefined,
  hand: HandSize,
): readonly Finger[] {
  const last = notes.at(-1);
  const [first] = notes;
  if (first === undefined || last === undefined) return [];
  const comes = before !== undefined && first.startTicks - before.startTicks - before.durationTicks < PHRASE_GAP_TICKS;
  const goes = after !== undefined && after.startTicks - last.startTicks - last.durationTicks < PHRASE_GAP_TICKS;
  const known = [...(comes ? [before] : []), ...notes, ...(goes ? [after] : [])];
  const line = known.map((each) => [midi('key' in each ? each.key : midiOf(each.pitch))]);
  const pins = known.flatMap((each, strike): FingerPin[] =>
    'finger' in each ? [{ strike, key: midiOf(each.pitch), finger: each.finger }] : [],
  );
  const found = bestFingerings(line, { side: 'right', model: fingeringModel('balliauw', hand), pins });
  const fingers = found.ok ? (found.value[0]?.fingers ?? []) : [];
  return notes.map((_, index) => fingers[index + (comes ? 1 : 0)]?.[0] ?? 1);
}

/** Whether a key belongs to the chord-scale in use. */
function isInScale({ slots }: Plan, slotIndex: number, key: Midi): boolean {
  const { chordScale = null } = slots[slotIndex] ?? {};
  return chordScale !== null && containsClass(chordScale.set, pitchClass(key % 12));
}

function notesOfStretch(
  plan: Plan,
  notes: readonly NamedOwnNote[],
  before: ChorusNote | undefined,
  after: ChorusNote | undefined,
  hand: HandSize,
): ChorusNote[] {
  const inPosition = fingersInPosition(plan, notes);
  const fingers = inPosition?.fingers ?? fingersByCost(notes, before, after, hand);
  return notes.map(({ startTicks, durationTicks, key, name, slotIndex, why }, index) => {
    const { position, thumbMidi } = handAt(plan, slotIndex);
    return {
      startTicks,
      durationTicks,
      pitch: pitchAt(name, key),
      slotIndex,
      why,
      finger: fingers[index] ?? 1,
      position,
      octaves: inPosition?.octaves ?? Math.floor((key - thumbMidi) / 12),
      neighbour: why.code === 'own.approach' && !isInScale(plan, slotIndex, key) ? 'approach' : null,
      motive: null,
      own: true,
    };
  });
}

const byTime = (a: ChorusNote, b: ChorusNote): number => a.startTicks - b.startTicks;

/**
 * Composed notes that break a rule only because of what stands beside them now go: an avoid note whose way out was written over, a
 * neighbour that leads nowhere, an end that is no chord tone. A third strike of one key stays. What is left too short is no phrase.
 */
function mended(plan: Plan, line: readonly ChorusNote[]): ChorusNote[] {
  let notes = line;
  for (;;) {
    const now = notes;
    const faulty = new Set(
      chorusFaults(plan, now)
        .filter(({ code }) => code !== 'three-times')
        .map(({ note }) => note),
    );
    if (faulty.size === 0) break;
    notes = now.filter((_, index) => !faulty.has(index));
  }
  return phrasesOf(notes)
    .filter((phrase) => phrase.length >= SHORTEST_PHRASE_NOTES || phrase.some(({ own }) => own === true))
    .flat();
}

/**
 * A chorus with the teacher's own notes in it: exactly those over the chords where a pin fits, the composed ones elsewhere. What lies
 * in the route's positions has their fingers; anything else is fingered by the published cost (Balliauw and others 2017), coming from
 * and going on to the notes beside it.
 */
export function withOwnChorus(
  plan: Plan,
  composed: readonly ChorusNote[],
  pins: readonly NotePin[],
  hand: HandSize,
): readonly ChorusNote[] {
  const stretches = ownStretches(plan, 'chorus', pins);
  if (stretches.length === 0) return composed;
  const { composed: kept, own } = joinLine(plan, 'chorus', composed, stretches);
  const joined: ChorusNote[] = [...kept];
  for (const notes of own) {
    const [first, last] = [notes[0], notes.at(-1)];
    if (first === undefined || last === undefined) continue;
    joined.sort(byTime);
    const before = joined.findLast(({ startTicks }) => startTicks < first.startTicks);
    const after = joined.find(({ startTicks }) => startTicks > last.startTicks);
    joined.push(...notesOfStretch(plan, notes, before, after, hand));
  }
  return mended(plan, joined.sort(byTime));
}
