import type { ChordScale } from '../../analysis/index.ts';
import type { Chord } from '../../theory/index.ts';
import { colourTones, type ColourTone } from './colour-tones.ts';
import type { VoicingForm } from './voicing-kind.ts';

/** A perfect and an augmented fourth, in semitones. */
const FOURTHS = [5, 6] as const;

/** Notes of a stack that one hand takes. Common practice: three. */
const STACKED = 3;

/** More augmented fourths than this and it no longer sounds in fourths. */
const MOST_AUGMENTED = 1;

/**
 * Stacks of three fourths out of a chord-scale: chord tones and available tensions, one guide tone or more among them, at most
 * one fourth augmented. Common practice.
 * @returns none where the scale gives none
 */
export function quartalForms(chord: Chord, scale: ChordScale | undefined): readonly VoicingForm[] {
  if (scale === undefined) return [];
  const tones = colourTones(chord, scale);
  const stacks: { readonly notes: readonly ColourTone[]; readonly augmented: number }[] = tones.map((tone) => ({
    notes: [tone],
    augmented: 0,
  }));
  for (let size = 1; size < STACKED; size++) {
    const grown = stacks.splice(0).flatMap(({ notes, augmented }) =>
      FOURTHS.flatMap((fourth) => {
        const wanted = ((notes.at(-1) as ColourTone).sound + fourth) % 12;
        const next = tones.find(({ sound }) => sound === wanted);
        const more = augmented + (fourth === 6 ? 1 : 0);
        return next === undefined || more > MOST_AUGMENTED ? [] : [{ notes: [...notes, next], augmented: more }];
      }),
    );
    stacks.push(...grown);
  }
  // with both guide tones first; a stack with none says nothing of the chord
  const guides = (notes: readonly ColourTone[]): number => notes.filter(({ isGuideTone }) => isGuideTone).length;
  return stacks
    .filter(({ notes }) => guides(notes) > 0)
    .toSorted((a, b) => guides(b.notes) - guides(a.notes))
    .map(({ notes }) => ({ name: 'quartal', notes: notes.map(({ name }) => name), left: STACKED, triad: null }));
}
