import type { Chord } from './chord.ts';
import { degree, semitonesOf, stepOf, type Degree } from './degree.ts';
import { notesOfKey, type Key } from './key.ts';
import {
  accidentalsOf,
  HIGHEST_FIFTHS,
  LOWEST_FIFTHS,
  pitchClass,
  pitchClassOf,
  spellingsOf,
  type NoteName,
  type PitchClass,
} from './note-name.ts';

/*
 * What notes are called over a chord: docs/spelling.md, rules (a), (b) and (e). Common practice, as this house settled it.
 */

const [MINOR_THIRD, SHARP_NINTH, THIRD] = [degree('b3'), degree('#9'), degree('3')];
const [FLAT_FIFTH, SHARP_ELEVENTH] = [degree('b5'), degree('#11')];
const [ROOT, DIMINISHED_SEVENTH, SIXTH, MAJOR_SEVENTH] = [degree('1'), degree('bb7'), degree('6'), degree('7')];

/** Letter distances of root, third, fifth and seventh. */
const OWN_STEPS: ReadonlySet<number> = new Set([0, 2, 4, 6]);

const isWritable = (fifths: number): boolean => fifths >= LOWEST_FIFTHS && fifths <= HIGHEST_FIFTHS;
const isSimple = (fifths: number): boolean => isWritable(fifths) && Math.abs(accidentalsOf(fifths as NoteName)) <= 1;
const soundAt = (fifths: number): PitchClass => pitchClass(fifths * 7);

/** A note on its letter where that takes at most one accidental, else the plain note of the same key: A for B double flat. */
export function simpleName(fifths: number): NoteName {
  return isSimple(fifths) ? (fifths as NoteName) : (spellingsOf(soundAt(fifths), 1)[0] as NoteName);
}

/** A note on its letter with up to two accidentals; what would need three is the plain note of the same key. */
function exactName(fifths: number): NoteName {
  return isWritable(fifths) ? (fifths as NoteName) : simpleName(fifths);
}

/** Where the middle of a key's notes is above its tonic, on the line of fifths. */
const CENTRE: Readonly<Record<Key['mode'], number>> = { major: 2, minor: -1 };

/** What a sound is called in a key: the key's own note, else as it came, else the name nearest to the key's notes. */
function nameInKey(fifths: number, key: Key): NoteName {
  const sound = soundAt(fifths);
  const own = notesOfKey(key).find((each) => pitchClassOf(each) === sound && isSimple(each));
  if (own !== undefined) return own;
  if (isSimple(fifths)) return fifths as NoteName;
  const middle = key.tonic + CENTRE[key.mode];
  const [nearest] = spellingsOf(sound, 1).sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle));
  return nearest as NoteName;
}

const isDiminishedSeventh = (chord: Chord): boolean => chord.degrees.includes(DIMINISHED_SEVENTH);

/** Whether a degree of the chord is its root, 3, 5, 6 or 7: what keeps the chord's letters. */
function isOwn(chord: Chord, value: Degree): boolean {
  const hasSeventh = chord.degrees.some((each) => stepOf(each) === 6);
  return OWN_STEPS.has(stepOf(value)) || (value === SIXTH && !hasSeventh);
}

/** Root, 3, 5, 6 and 7 as the chord's letters have them; in a diminished seventh chord fifth and seventh as the key has them. */
function ownName(chord: Chord, value: Degree, key: Key): NoteName {
  const fifths = chord.root + value;
  if (!isDiminishedSeventh(chord)) return exactName(fifths);
  const isUpper = value === FLAT_FIFTH || value === DIMINISHED_SEVENTH;
  return isUpper ? nameInKey(fifths, key) : simpleName(fifths);
}

/** 'alt' writes none of its tensions: they follow the altered scale. */
const isAlt = (chord: Chord): boolean => chord.suffix.includes('alt');

/** The first of these degrees that takes at most one accidental over the root. */
function firstSimple(chord: Chord, ...degreesInTurn: readonly [Degree, ...Degree[]]): NoteName {
  const found = degreesInTurn.find((each) => isSimple(chord.root + each));
  return simpleName(chord.root + (found ?? degreesInTurn[0]));
}

/** The ♯9: as the symbol says, else the minor third above the root; the other letter where that would be double. */
function sharpNinthName(chord: Chord): NoteName {
  const isSaid = chord.degrees.includes(SHARP_NINTH) && !isAlt(chord);
  return isSaid ? firstSimple(chord, SHARP_NINTH, MINOR_THIRD) : firstSimple(chord, MINOR_THIRD, SHARP_NINTH);
}

/** On which letter a scale has the tritone above its root: the fifth in altered, Locrian and blues scales. */
export type TritoneLetter = 'fifth' | 'fourth';

function tritoneName(chord: Chord, letter: TritoneLetter): NoteName {
  const isFifth = letter === 'fifth' || chord.degrees.includes(FLAT_FIFTH);
  return isFifth ? firstSimple(chord, FLAT_FIFTH, SHARP_ELEVENTH) : firstSimple(chord, SHARP_ELEVENTH, FLAT_FIFTH);
}

/**
 * The names that everything played or drawn over a chord keeps, the root's first: its 1, 3, 5, 6 and 7 (of a diminished
 * seventh its fifth and seventh as the key calls them); over a major third the ♯9; under C and F of a diminished seventh B and E; and the tritone, where a scale on the
 * chord's own root says on which letter.
 * @param tritone null for a scale on another root, which has the tritone as its own note
 * @example keptNames(chord('D7alt'), parseKey('G minor')!, 'fifth').map(formatNoteName) // → ['D', 'F#', 'C', 'F', 'Ab']
 */
export function keptNames(chord: Chord, key: Key, tritone: TritoneLetter | null): NoteName[] {
  const names = ownNames(chord, key);
  const sounds = new Set(names.map(pitchClassOf));
  const keep = (name: NoteName): void => {
    if (!sounds.has(pitchClassOf(name))) names.push(name);
    sounds.add(pitchClassOf(name));
  };
  if (chord.degrees.includes(THIRD)) keep(sharpNinthName(chord));
  if (tritone !== null) keep(tritoneName(chord, tritone));
  // nobody writes C flat under the C of C diminished, nor F flat under F
  const under = chord.root + MAJOR_SEVENTH;
  if (isDiminishedSeventh(chord) && isSimple(under) && accidentalsOf(under as NoteName) === 0) keep(under as NoteName);
  return names;
}

/** The chord's root, 3, 5, 6 and 7 as they are named over it, the root first. */
export function ownNames(chord: Chord, key: Key): NoteName[] {
  const own = chord.degrees.filter((each) => isOwn(chord, each));
  const names = own.map((each) => ownName(chord, each, key));
  if (!own.includes(ROOT)) names.unshift(chord.root);
  return names;
}

/** A note by the name that is kept for its sound, else as it is. */
export function asKept(note: NoteName, kept: readonly NoteName[]): NoteName {
  return kept.find((each) => pitchClassOf(each) === pitchClassOf(note)) ?? note;
}

/**
 * A degree over a chord by the rules for what is played over it: the chord's own letters, one accidental at most outside them.
 * @example formatNoteName(nameOver(chord('Ab7'), degree('b9'), parseKey('Db major')!)) // → 'A'
 */
export function nameOver(chord: Chord, value: Degree, key: Key): NoteName {
  const fifths = chord.root + value;
  const letter = value === FLAT_FIFTH || isAlt(chord) ? 'fifth' : 'fourth';
  const isTritone = semitonesOf(value) === 6;
  const kept = keptNames(chord, key, isTritone ? letter : null);
  return kept.find((each) => pitchClassOf(each) === soundAt(fifths)) ?? simpleName(fifths);
}

/** The chord's notes in the order of its degrees, named as they are played. */
export function namesOfChord(chord: Chord, key: Key): NoteName[] {
  return chord.degrees.map((each) => nameOver(chord, each, key));
}
