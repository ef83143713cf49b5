import type { AnalysedSlot, ChordScale } from '../../analysis/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import {
  accidentalsOf,
  containsClass,
  degree,
  keptNames,
  nameOver,
  notesOfKey,
  ownNames,
  pitchClass,
  pitchClassOf,
  setOfNotes,
  spellingsOf,
  type Key,
  type Midi,
  type NoteName,
} from '../../theory/index.ts';
import { DEGREES_BY_SOUND } from '../chorus/key-place.ts';
import { neighbourName } from '../chorus/neighbour.ts';

/** What a note that somebody wrote is called, and the key and name of what follows it at once. */
export interface Following {
  readonly key: Midi;
  readonly name: NoteName;
}

const isPlain = (name: NoteName): boolean => Math.abs(accidentalsOf(name)) <= 1;

/** Where no chord is: as the key has it, else the plainest name. */
function nameWithoutChord(sound: number, key: Key): NoteName {
  const own = notesOfKey(key).find((each) => pitchClassOf(each) === sound && isPlain(each));
  return own ?? (spellingsOf(pitchClass(sound), 1)[0] as NoteName);
}

/** What has a say in the names of notes over a chord. */
export interface NamingPlace {
  readonly analysed: AnalysedSlot;
  readonly scale: ChordScale | null;
  /** The position's notes where a hand is in one; else none. */
  readonly underHand: readonly NoteName[];
}

/**
 * What a key is called over a chord by the rules for what is played over it (docs/spelling.md): the chord's own letters, then the
 * position's and the chord-scale's; a half step into what follows has the letter beside it; else the chord's tension of that sound.
 * @param inPosition whether the hand's position has a say: not in the bass
 */
export function nameOfOwn(slot: PlannedSlot, key: Midi, next: Following | undefined, inPosition: boolean): NoteName {
  const { analysed, position } = slot;
  const scale = inPosition ? slot.chordScale : (analysed.chordScales[0] ?? null);
  return nameInPlace({ analysed, scale, underHand: inPosition ? (position?.notes ?? []) : [] }, key, next);
}

/** The same by what has a say in it. */
export function nameInPlace(
  { analysed, scale, underHand: lying }: NamingPlace,
  key: Midi,
  next: Following | undefined,
): NoteName {
  const { chord, reading } = analysed;
  const sound = pitchClass(key % 12);
  if (chord === null) return nameWithoutChord(sound, reading.key);
  const named = (names: readonly NoteName[]): NoteName | undefined =>
    names.find((each) => pitchClassOf(each) === sound);
  const underHand = named(lying);
  if (underHand !== undefined) return underHand;
  const kept = named(scale?.kept ?? keptNames(chord, reading.key, null));
  const isAtHome = containsClass(setOfNotes([...ownNames(chord, reading.key), ...(scale?.notes ?? [])]), sound);
  if (isAtHome) {
    const name = kept ?? named((scale?.notes ?? []).filter(isPlain));
    if (name !== undefined) return name;
  } else if (next !== undefined && Math.abs(next.key - key) === 1) {
    const own = ownNames(chord, reading.key);
    return neighbourName(key, { midi: next.key, name: next.name }, own, scale?.notes ?? [], reading.key);
  }
  if (kept !== undefined) return kept;
  const above = pitchClass(sound - pitchClassOf(chord.root) + 12);
  const name = nameOver(chord, degree(DEGREES_BY_SOUND[above] as string), reading.key);
  return isPlain(name) ? name : (spellingsOf(sound, 1)[0] as NoteName);
}
