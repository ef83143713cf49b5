import {
  accidentalsOf,
  degree,
  noteAbove,
  notesOfKey,
  pitchClass,
  pitchClassOf,
  spellingsOf,
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
}

/** The half step is the commonest approach (Weimar bass track: 36.8 % against 14.2 and 20.9; C). Costs are our own. */
const COST = { halfStep: 0, scaleStep: 1, dominant: 4 } as const;

/**
 * The half step beside a note, spelled as a musician would: the key's own note where the key has one, else the natural
 * where there is one, else as leading note from below and as flat second from above.
 */
function halfStepBeside(goal: NoteName, semitones: -1 | 1, key: Key): NoteName {
  const spellings = spellingsOf(pitchClass(pitchClassOf(goal) + semitones), 1);
  const inKey = notesOfKey(key).find((note) => spellings.includes(note));
  const natural = spellings.find((note) => accidentalsOf(note) === 0);
  const byFunction = goal + degree(semitones === -1 ? '7' : 'b2');
  return inKey ?? natural ?? spellings.find((note) => note === byFunction) ?? (spellings[0] as NoteName);
}

/**
 * Every way into a note, the commonest first.
 * @param goal the next root
 * @param key the region's key, for the spelling
 * @param scale the notes of the chord-scale that is left
 */
export function approachesTo(goal: NoteName, key: Key, scale: readonly NoteName[]): Approach[] {
  const halfSteps = ([-1, 1] as const).map((semitones): Approach => ({
    kind: semitones === -1 ? 'half step below' : 'half step above',
    name: halfStepBeside(goal, semitones, key),
    cost: COST.halfStep,
    leadsTo: (from, to) => to - from === -semitones,
  }));
  const scaleSteps = ([-2, 2] as const).flatMap((semitones): Approach[] => {
    const name = scale.find((note) => pitchClassOf(note) === pitchClass(pitchClassOf(goal) + semitones));
    if (name === undefined) return [];
    return [
      {
        kind: semitones === -2 ? 'scale step below' : 'scale step above',
        name,
        cost: COST.scaleStep,
        leadsTo: (from, to) => to - from === -semitones,
      },
    ];
  });
  const dominant: Approach = {
    kind: 'dominant',
    name: noteAbove(goal, degree('5')),
    cost: COST.dominant,
    leadsTo: (from, to) => to - from === 5 || from - to === 7,
  };
  return [...halfSteps, ...scaleSteps, dominant];
}
