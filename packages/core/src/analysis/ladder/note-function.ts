import {
  degree,
  degreeOnStep,
  noteAbove,
  pitchClassOf,
  semitonesOf,
  setOfChord,
  stepOf,
  containsClass,
  type Chord,
  type Degree,
  type NoteName,
  type PitchClass,
} from '../../theory/index.ts';
import type { AvoidNote, Resolution } from '../chord-scale.ts';

const SIXTH = degree('6');
const MINOR_THIRD = degree('b3');
const MINOR_SEVENTH = degree('b7');

/**
 * Semitones above the root that a dominant bears though they may lie a half step above a chord tone: b9, #9, #11, b13.
 * Source: docs/sources.md, 6 ('dominants excepted'; common practice). The natural 4 stays an avoid note.
 */
const DOMINANT_TENSIONS: ReadonlySet<number> = new Set([1, 3, 6, 8]);

/** The chord without its tensions: root, third (or what is suspended for it), fifth, and seventh or sixth. Common practice. */
export function chordToneDegrees(chord: Chord): readonly Degree[] {
  const hasSeventh = degreeOnStep(chord, 6) !== undefined;
  const suspended =
    degreeOnStep(chord, 2) === undefined ? (degreeOnStep(chord, 3) ?? degreeOnStep(chord, 1)) : undefined;
  return chord.degrees.filter((each) => {
    const step = stepOf(each);
    return step === 0 || step === 2 || step === 4 || step === 6 || (step === 5 && !hasSeventh) || each === suspended;
  });
}

/** What a chord does, as far as its avoid notes differ. */
export type Acting = 'predominant' | 'dominant' | 'neither';

/** What each note of a scale does over a chord; the three lists together are the scale. */
export interface NoteFunctions {
  readonly chordTones: readonly NoteName[];
  readonly tensions: readonly NoteName[];
  readonly avoid: readonly AvoidNote[];
}

/** Semitones from one pitch class to another by the shorter way, −5 … 6. */
function shortestWay(from: PitchClass, to: PitchClass): number {
  const up = (to - from + 12) % 12;
  return up > 6 ? up - 12 : up;
}

/** Where an avoid note goes by step: nearest first, down before up. */
function resolutionsAmong(note: NoteName, goals: readonly NoteName[]): Resolution[] {
  return goals
    .map((goal) => ({ note: goal, semitones: shortestWay(pitchClassOf(note), pitchClassOf(goal)) }))
    .filter(({ semitones }) => Math.abs(semitones) === 1 || Math.abs(semitones) === 2)
    .sort((a, b) => Math.abs(a.semitones) - Math.abs(b.semitones) || a.semitones - b.semitones);
}

/**
 * Sorts a scale's notes into chord tones, tensions and avoid notes over a chord. An avoid note is a half step (a minor
 * ninth) above a chord tone, dominants excepted for b9 #9 #11 b13; a note the symbol writes is never one. On a minor
 * seventh chord that leads to a dominant the 6 is one too: with the b3 it sounds the dominant's tritone too early.
 * Source: docs/sources.md, 6 (definition, exceptions, table).
 * @param acting what the chord does: a 'predominant' leads to a dominant; a 'dominant' triad or sus chord has a dominant's
 * exceptions, as every dominant seventh has whatever it does.
 * @returns an avoid note's `resolvesTo` are chord tones in the scale a step away; where the scale has none (an outside
 * one), the chord's own tones a step away, which is how one comes back inside.
 * @example noteFunctionsOf(chord('Cmaj7'), notesOfKey(parseKey('C major')!), 'neither').avoid.map((each) => formatNoteName(each.note)) // → ['F']
 */
export function noteFunctionsOf(chord: Chord, notes: readonly NoteName[], acting: Acting): NoteFunctions {
  const base = chordToneDegrees(chord);
  const baseClasses = new Set(base.map((each) => pitchClassOf(noteAbove(chord.root, each))));
  const written = setOfChord(chord);
  const leadsWithSixth =
    acting === 'predominant' && chord.degrees.includes(MINOR_THIRD) && chord.degrees.includes(MINOR_SEVENTH);

  const isDominant = acting === 'dominant' || chord.quality === 'dominant';

  const isAvoid = (note: NoteName): boolean => {
    const sounding = pitchClassOf(note);
    if (containsClass(written, sounding)) return false;
    const above = (sounding - pitchClassOf(chord.root) + 12) % 12;
    if (leadsWithSixth && above === semitonesOf(SIXTH)) return true;
    if (!baseClasses.has(((sounding + 11) % 12) as PitchClass)) return false;
    return !(isDominant && DOMINANT_TENSIONS.has(above));
  };

  const chordTones = notes.filter((note) => baseClasses.has(pitchClassOf(note)));
  const ownTones = base.map((each) => noteAbove(chord.root, each));
  const avoid = notes
    .filter((note) => !baseClasses.has(pitchClassOf(note)) && isAvoid(note))
    .map((note): AvoidNote => {
      const within = resolutionsAmong(note, chordTones);
      return { note, resolvesTo: within.length > 0 ? within : resolutionsAmong(note, ownTones) };
    });
  const avoided = new Set(avoid.map((each) => each.note));
  const tensions = notes.filter((note) => !baseClasses.has(pitchClassOf(note)) && !avoided.has(note));
  return { chordTones, tensions, avoid };
}
