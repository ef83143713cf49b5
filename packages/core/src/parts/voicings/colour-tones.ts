import { degreeInScale, type ChordScale } from '../../analysis/index.ts';
import {
  asKept,
  guideTonesOf,
  noteAbove,
  pitchClassOf,
  simpleName,
  stepOf,
  type Chord,
  type NoteName,
  type PitchClass,
} from '../../theory/index.ts';

/** A note a voicing may take from a chord-scale. */
export interface ColourTone {
  readonly name: NoteName;
  readonly sound: PitchClass;
  readonly isTension: boolean;
  readonly isGuideTone: boolean;
}

/** Steps on which a chord writes alterations: 9, 11 and 13; an altered fifth stands for the 11 and 13 beside it. */
const TENSION_STEPS: ReadonlySet<number> = new Set([1, 3, 5]);

/**
 * Whether a note stands where the chord writes the same degree otherwise: a 9 over a chord with a ♭9. By sound. Over a suspended chord a
 * scale's minor third is heard as a ♯9.
 */
function clashesWithWritten(chord: Chord, place: number, sound: PitchClass): boolean {
  const isSharpNinth = chord.quality === 'suspended' && sound === (pitchClassOf(chord.root) + 3) % 12;
  const step = isSharpNinth ? 1 : place;
  const there = chord.degrees.filter((each) => stepOf(each) === step);
  const sounds = there.map((each) => pitchClassOf(noteAbove(chord.root, each)));
  return TENSION_STEPS.has(step) && there.length > 0 && !sounds.includes(sound);
}

/** The chord tones and available tensions of a chord-scale as they are named over the chord; what rubs or clashes with a written alteration is left out. */
export function colourTones(chord: Chord, scale: ChordScale): readonly ColourTone[] {
  const guides = new Set(guideTonesOf(chord).map((each) => pitchClassOf(noteAbove(chord.root, each))));
  const avoid = new Set(scale.avoid.map(({ note }) => pitchClassOf(note)));
  const tones = new Set(scale.chordTones.map(pitchClassOf));
  return scale.notes
    .filter((note) => !avoid.has(pitchClassOf(note)))
    .filter((note) => {
      const sound = pitchClassOf(note);
      const own = chord.degrees.some((each) => pitchClassOf(noteAbove(chord.root, each)) === sound);
      return own || !clashesWithWritten(chord, stepOf(degreeInScale(chord, scale, note)), sound);
    })
    .map((note) => {
      const sound = pitchClassOf(note);
      const name = simpleName(asKept(note, scale.kept));
      return { name, sound, isTension: !tones.has(sound), isGuideTone: guides.has(sound) };
    });
}
