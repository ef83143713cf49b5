import {
  accidentalsOf,
  degree,
  degreeOnStep,
  letterOf,
  noteAbove,
  notesOfKey,
  pitchClass,
  pitchClassOf,
  spellingsOf,
  type Chord,
  type Key,
  type Midi,
  type NoteName,
} from '../theory/index.ts';

/** A note that leads into another. */
export interface Approach {
  readonly kind: 'half step below' | 'half step above' | 'scale step below' | 'scale step above' | 'dominant';
  readonly name: NoteName;
  /** How much less usual it is than a half step; integer. */
  readonly cost: number;
  /** Whether it leads from this key to that one: a step must lie beside its goal, a dominant within the octave. */
  readonly leadsTo: (from: Midi, to: Midi) => boolean;
  /** It is the other third of the chord that is left (B over Gm7): only as the last half step of a chromatic climb. */
  readonly needsClimb: boolean;
}

/** The half step is the commonest approach (Weimar bass track: 36.8 % against 14.2 and 20.9; C). Costs are our own. */
const COST = { halfStep: 0, scaleStep: 4, dominant: 3 } as const;

/** A spelling nobody minds reading: one accidental at most. */
function isPlain(note: NoteName): boolean {
  return Math.abs(accidentalsOf(note)) <= 1;
}

/**
 * How a player writes the half step into a goal: the key's own note on the letter beside it where the key has one; else
 * from below as the goal's leading note, from above the natural where there is one (B into B♭), else the flat second; a double
 * accidental never. Common practice.
 */
function halfStepBeside(goal: NoteName, semitones: -1 | 1, key: Key): NoteName {
  const spellings = spellingsOf(pitchClass(pitchClassOf(goal) + semitones), 1);
  const byFunction = (goal + degree(semitones === -1 ? '7' : 'b2')) as NoteName;
  const inKey = notesOfKey(key).find(
    (note) => isPlain(note) && spellings.includes(note) && letterOf(note) === letterOf(byFunction),
  );
  const leading = semitones === -1 ? spellings.find((note) => note === byFunction) : undefined;
  const natural = spellings.find((note) => accidentalsOf(note) === 0);
  return inKey ?? leading ?? natural ?? spellings.find((note) => note === byFunction) ?? (spellings[0] as NoteName);
}

/**
 * The whole step into a goal where the scale has it, spelled as a step: on the letter beside the goal's, whatever the scale
 * calls it (F into G, though D altered has E♯). Left out where that would take a double accidental.
 */
function scaleStepInto(goal: NoteName, semitones: -2 | 2, scale: readonly NoteName[]): Approach[] {
  const sound = pitchClass(pitchClassOf(goal) + semitones);
  if (!scale.some((note) => pitchClassOf(note) === sound)) return [];
  const byStep = goal + degree(semitones === -2 ? 'b7' : '2');
  const name = spellingsOf(sound, 1).find((note) => note === byStep);
  if (name === undefined) return [];
  return [
    {
      kind: semitones === -2 ? 'scale step below' : 'scale step above',
      name,
      cost: COST.scaleStep,
      leadsTo: (from, to) => to - from === -semitones,
      needsClimb: false,
    },
  ];
}

/** The fifth above a goal, which leads into it as its dominant; the plain note where that would take a double accidental. */
function fifthAbove(goal: NoteName): NoteName {
  const byFunction = (goal + degree('5')) as NoteName;
  if (isPlain(byFunction)) return byFunction;
  return spellingsOf(pitchClass(pitchClassOf(goal) + 7), 1)[0] as NoteName;
}

/**
 * Whether a note is the third that a chord does not have: major over a minor chord, minor over a major one; a written ♯9 is no
 * contradiction. Common practice.
 */
export function contradictsThird(chord: Chord, note: NoteName): boolean {
  const third = degreeOnStep(chord, 2);
  if (third === undefined) return false;
  const sounds = chord.degrees.map((each) => pitchClassOf(noteAbove(chord.root, each)));
  const sound = pitchClassOf(note);
  const [minor, major] = [degree('b3'), degree('3')].map((each) => pitchClassOf(noteAbove(chord.root, each)));
  return (sound === minor || sound === major) && !sounds.includes(sound);
}

/**
 * Every way into a note, the commonest first.
 * @param goal the note that is led into: the next chord's root or written bass
 * @param key the goal's key, for the spelling
 * @param scale the notes of the chord-scale that is left
 * @param leaving the chord that is left, whose third no approach may contradict but at the end of a chromatic climb
 * @example approachesTo(noteName('G'), parseKey('G minor')!, notesOfKey(parseKey('G minor')!)).map((each) => formatNoteName(each.name))
 */
export function approachesTo(
  goal: NoteName,
  key: Key,
  scale: readonly NoteName[],
  leaving: Chord | null = null,
): Approach[] {
  const halfSteps = ([-1, 1] as const).map((semitones): Approach => ({
    kind: semitones === -1 ? 'half step below' : 'half step above',
    name: halfStepBeside(goal, semitones, key),
    cost: COST.halfStep,
    leadsTo: (from, to) => to - from === -semitones,
    needsClimb: false,
  }));
  const dominant: Approach = {
    kind: 'dominant',
    name: fifthAbove(goal),
    cost: COST.dominant,
    leadsTo: (from, to) => to - from === 5 || from - to === 7,
    needsClimb: false,
  };
  const all = [...halfSteps, ...scaleStepInto(goal, -2, scale), ...scaleStepInto(goal, 2, scale), dominant];
  return all.map((each) => ({ ...each, needsClimb: leaving !== null && contradictsThird(leaving, each.name) }));
}
