import type { Plan } from '../../plan/index.ts';
import type { Finger } from '../../hand/index.ts';
import {
  accidentalsOf,
  degree,
  midi,
  notesOfKey,
  ownNames,
  pitchClass,
  pitchClassOf,
  spellingsOf,
  type Key,
  type Midi,
  type NoteName,
} from '../../theory/index.ts';
import { degreeOver, isChordTone, type KeyPlace } from './key-place.ts';

/** From a note to the one a minor second above it, on the line of fifths. */
const MINOR_SECOND = degree('b2');

/** C♭, F♭, E♯, B♯: a white key under another letter. */
const isOddName = (name: NoteName, sound: number): boolean =>
  accidentalsOf(name) !== 0 && [0, 2, 4, 5, 7, 9, 11].includes(sound);

/**
 * A chromatic neighbour's name: the chord's own where it is one of its notes (C over C7, wherever it goes), else the letter beside
 * its goal's (E into F, A♭ into G) unless that is an odd name and the scale in use has another. Nobody writes F♭ into E♭ or C♭ into B♭
 * in a key that has neither (E, B); E♯ into F♯ and B♯ into C♯ one does. Common practice.
 * @param own the chord's root, 3, 5, 6 and 7, as they are named over it
 * @param home the key it is heard in
 */
export function neighbourName(
  key: number,
  goal: Pick<KeyPlace, 'midi' | 'name'>,
  own: readonly NoteName[],
  scale: readonly NoteName[],
  home: Key,
): NoteName {
  const sound = pitchClass(((key % 12) + 12) % 12);
  const named = (names: readonly NoteName[]): NoteName | undefined =>
    names.find((each) => pitchClassOf(each) === sound && Math.abs(accidentalsOf(each)) <= 1);
  const chordTone = own.find((each) => pitchClassOf(each) === sound);
  if (chordTone !== undefined) return chordTone;
  // beside a double flat it may have three, which is no name: it is only asked how many it has
  const beside = (key < goal.midi ? goal.name - MINOR_SECOND : goal.name + MINOR_SECOND) as NoteName;
  const isPlain = Math.abs(accidentalsOf(beside)) <= 1;
  if (isPlain && !isOddName(beside, sound)) return beside;
  const isWritten = isPlain && (accidentalsOf(beside) > 0 || notesOfKey(home).includes(beside));
  return named(scale) ?? (isWritten ? beside : (spellingsOf(sound, 1)[0] as NoteName));
}

/**
 * Keys between two fingers from which the next note is a half step away. The finger beside it on the far side of the goal
 * plays it, so that the goal's own finger is free.
 * @param here the keys under the hand, ascending
 * @param next the keys the next note may have
 */
export function neighboursOf(plan: Plan, here: readonly KeyPlace[], next: readonly KeyPlace[]): KeyPlace[] {
  const slot = plan.slots[here[0]?.slotIndex ?? -1];
  const chord = slot?.analysed.chord ?? null;
  const scale = slot?.chordScale?.notes ?? [];
  if (slot === undefined || chord === null) return [];
  const own = ownNames(chord, slot.analysed.reading.key);
  return here.slice(1).flatMap((upper, index) => {
    const lower = here[index] as KeyPlace;
    const keys = Array.from({ length: upper.midi - lower.midi - 1 }, (_, place) => midi(lower.midi + 1 + place));
    return keys.flatMap((key): KeyPlace[] => {
      const goals = next.filter((each) => Math.abs(each.midi - key) === 1 && isGoal(each, here));
      const [goal] = goals;
      if (goal === undefined) return [];
      const finger: Finger = key < goal.midi ? lower.finger : upper.finger;
      const name = neighbourName(key, goal, own, scale, slot.analysed.reading.key);
      return [
        {
          slotIndex: lower.slotIndex,
          finger,
          midi: key,
          name,
          standing: 'neighbour',
          resolvesTo: [...new Set<Midi>(goals.map((each) => each.midi))],
          degree: degreeOver(chord, name),
        },
      ];
    });
  });
}

/**
 * A neighbour as it stands in a line: it may lie a half step from two goals, and has the letter beside the one it goes to. Any other
 * key as it came.
 */
export function namedInLine(plan: Plan, place: KeyPlace, next: KeyPlace | undefined): KeyPlace {
  const slot = plan.slots[place.slotIndex];
  const chord = slot?.analysed.chord ?? null;
  if (place.standing !== 'neighbour' || next === undefined || slot === undefined || chord === null) return place;
  const { key } = slot.analysed.reading;
  const name = neighbourName(place.midi, next, ownNames(chord, key), slot.chordScale?.notes ?? [], key);
  return { ...place, name, degree: degreeOver(chord, name) };
}

/** In its own chord any note that does not rub is led into; in the coming one a chord tone. */
function isGoal(goal: KeyPlace, here: readonly KeyPlace[]): boolean {
  return goal.slotIndex === here[0]?.slotIndex
    ? goal.standing !== 'avoid note' && goal.standing !== 'outside note'
    : isChordTone(goal);
}
