import { chordToneDegrees, type ChordScale } from '../../analysis/index.ts';
import { keysOf, type Finger, type Position } from '../../hand/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import {
  degreeAbove,
  formatDegree,
  guideTonesOf,
  midi,
  noteAbove,
  pitchClass,
  pitchClassOf,
  semitonesOf,
  type Chord,
  type Midi,
  type NoteName,
  type PitchClass,
} from '../../theory/index.ts';

/**
 * What a key sounds like over a chord. A guide tone is a chord tone too; a neighbour is a key between two fingers that leads
 * by half step into the next note.
 */
export type Standing = 'guide tone' | 'chord tone' | 'tension' | 'avoid note' | 'outside note' | 'neighbour';

/** A key under a finger of the route's position in one slot. */
export interface KeyPlace {
  readonly slotIndex: number;
  readonly finger: Finger;
  readonly midi: Midi;
  readonly name: NoteName;
  readonly standing: Standing;
  /** For an avoid note: the keys under the same hand that take it in by step; for a neighbour, those a half step away. */
  readonly resolvesTo: readonly Midi[];
  /** Its degree above the chord's root, as a musician names it over that chord. */
  readonly degree: string;
}

/** Degrees where the spelling does not tell them, by semitones above the root. Common practice. */
export const DEGREES_BY_SOUND = ['1', 'b9', '9', '#9', '3', '11', '#11', '5', 'b13', '13', 'b7', '7'] as const;

/** A note's degree over a chord: the chord's own name for it, else its spelling's, else the sound's. */
export function degreeOver(chord: Chord, name: NoteName): string {
  const semitones = pitchClass(pitchClassOf(name) - pitchClassOf(chord.root));
  const own = chord.degrees.find((each) => semitonesOf(each) === semitones);
  if (own !== undefined) {
    const hasSeventh = chord.degrees.some((each) => ['7', 'b7'].includes(formatDegree(each)));
    return formatDegree(own, hasSeventh ? 'extension' : 'octave');
  }
  const usual = DEGREES_BY_SOUND[semitones] as string;
  // over a dominant the names of its tensions, however they are spelled: A♭ over D7 is its ♯11, A over D♭7 its ♭13
  if (chord.quality === 'dominant') return usual;
  const spelled = formatDegree(degreeAbove(chord.root, name), 'extension');
  return /^[b#]?(?:9|11|13|[3579])$/u.test(spelled) && !['#3', 'b3', 'b11', '#13'].includes(spelled) ? spelled : usual;
}

/** What a sound does over a chord, in a chord-scale. */
export function standingOf(sound: PitchClass, chord: Chord, { tensions, avoid, chordTones }: ChordScale): Standing {
  const holds = (notes: readonly NoteName[]): boolean => notes.some((note) => pitchClassOf(note) === sound);
  if (holds(avoid.map(({ note }) => note))) return 'avoid note';
  // by the symbol: a chord that is read over its bass (G♭/A as an A7) still sounds as it is written
  if (holds(chordToneDegrees(chord).map((each) => noteAbove(chord.root, each)))) {
    return holds(guideTonesOf(chord).map((each) => noteAbove(chord.root, each))) ? 'guide tone' : 'chord tone';
  }
  return holds([...tensions, ...chordTones]) ? 'tension' : 'outside note';
}

/** What leans on the root or the fifth from a half step above; an avoid note that is spelled as a raised fifth sounds as the ♭13. */
const LEANING: ReadonlySet<string> = new Set(['b9', 'b13', 'b6', '#5', '#1']);

/** Whether an avoid note would go against its direction: a ♭9 or ♭13 falls by half step, D♭ over Cm7 into C. Common practice. */
export function isWrongWay(degree: string, semitones: number): boolean {
  return LEANING.has(degree) && semitones !== -1;
}

function placesOf({ analysed, chordScale, position, thumbMidi }: PlannedSlot): KeyPlace[] {
  const { chord, played } = analysed;
  if (chord === null || chordScale === null || position === null || thumbMidi === null) return [];
  const keys = keysOf(position, thumbMidi);
  return keys.map((midi, index): KeyPlace => {
    const name = position.notes[index] as NoteName;
    const sound = pitchClassOf(name);
    const degree = degreeOver(chord, name);
    const resolutions = chordScale.avoid.find(({ note }) => pitchClassOf(note) === sound)?.resolvesTo ?? [];
    return {
      slotIndex: played.index,
      finger: (index + 1) as Finger,
      midi,
      name,
      standing: standingOf(sound, chord, chordScale),
      resolvesTo: keys.filter((key) =>
        resolutions.some(({ semitones }) => key - midi === semitones && !isWrongWay(degree, semitones)),
      ),
      degree,
    };
  });
}

/** The five keys under the hand in every slot of a plan; none where the hand rests. */
export function keyPlacesOf(plan: Plan): KeyPlace[][] {
  return plan.slots.map(placesOf);
}

/** The same keys an octave or more away. */
export function inOctave(place: KeyPlace, octaves: number): KeyPlace {
  const move = (key: Midi): Midi => midi(key + 12 * octaves);
  return octaves === 0 ? place : { ...place, midi: move(place.midi), resolvesTo: place.resolvesTo.map(move) };
}

export function isChordTone({ standing }: KeyPlace): boolean {
  return standing === 'guide tone' || standing === 'chord tone';
}

/** Whether two slots are the same to the hand and the ear: chord and chord-scale agree. */
export function soundsOn(plan: Plan, one: number, other: number): boolean {
  const [a, b] = [plan.slots[one], plan.slots[other]];
  return (
    a?.chordScale != null &&
    a.chordScale.id === b?.chordScale?.id &&
    a.analysed.played.slot.chord.symbol === b.analysed.played.slot.chord.symbol
  );
}

/** The position of a slot; a programmer's mistake where it has none. */
export function positionOfSlot(plan: Plan, slotIndex: number): Position {
  const position = plan.slots[slotIndex]?.position;
  if (position == null) throw new RangeError(`slotIndex must be a slot with a position, not ${slotIndex}`);
  return position;
}
