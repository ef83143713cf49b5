import type { ChordScale } from '../../analysis/index.ts';
import { degree, noteAbove, simpleName, type Chord } from '../../theory/index.ts';
import { colourTones, type ColourTone } from './colour-tones.ts';
import type { UpperTriad, VoicingForm } from './voicing-kind.ts';

/** Semitones of a triad's third and fifth above its root. */
const TRIADS = [
  { quality: 'major', third: 4, fifth: 7 },
  { quality: 'minor', third: 3, fifth: 7 },
] as const;

/** Fewest tensions in the triad: over a dominant it is there for the colours, elsewhere for one. Common practice. */
const FEWEST_TENSIONS = { dominant: 2, other: 1 } as const;

/** Steps of a triad as thirds, by its quality: how its notes are lettered above its root. */
const LETTERED = {
  major: [degree('1'), degree('3'), degree('5')],
  minor: [degree('1'), degree('b3'), degree('5')],
} as const;

/** A triad read as one: letters in thirds from its root where none takes a double accidental, else as the chord-scale has them. */
function lettered({ root, quality }: UpperTriad, tones: readonly ColourTone[]): readonly ColourTone[] {
  const names = LETTERED[quality].map((each) => noteAbove(root, each));
  const isPlain = names.every((name) => simpleName(name) === name);
  // guide tones keep the chord's letters, whatever the triad would say
  const keeps = tones.every((tone, place) => !tone.isGuideTone || tone.name === names[place]);
  return isPlain && keeps ? tones.map((tone, place) => ({ ...tone, name: names[place] ?? tone.name })) : tones;
}

/**
 * Major and minor triads over the guide tones, out of the chord-scale's chord tones and available tensions, in every inversion.
 * Common practice: over a dominant the II, ♭VI, VI, ♭V and minor ♭II and the like, whichever its scale gives.
 * @param pairs the guide tones in the left hand, either way up
 * @returns none where the scale gives none, or the chord has no pair of guide tones
 */
export function upperStructureForms(
  chord: Chord,
  scale: ChordScale | undefined,
  pairs: readonly VoicingForm[],
): readonly VoicingForm[] {
  const below = pairs.filter(({ name }) => name === 'third below' || name === 'seventh below');
  if (scale === undefined || below.length < 2) return [];
  const tones = colourTones(chord, scale);
  const toneAt = (sound: number): ColourTone | undefined => tones.find((each) => each.sound === sound % 12);
  const fewest = FEWEST_TENSIONS[chord.quality === 'dominant' ? 'dominant' : 'other'];
  const found = tones.flatMap((root) =>
    TRIADS.flatMap(({ quality, third, fifth }) => {
      const members = [root, toneAt(root.sound + third), toneAt(root.sound + fifth)];
      if (members.some((each) => each === undefined)) return [];
      const notes = lettered({ root: root.name, quality }, members as ColourTone[]);
      return notes.filter(({ isTension }) => isTension).length < fewest ? [] : [{ notes, quality }];
    }),
  );
  // a triad that says what the left hand says already only where there is no other
  const fresh = found.filter(({ notes }) => !notes.some(({ isGuideTone }) => isGuideTone));
  return (fresh.length > 0 ? fresh : found).flatMap(({ notes, quality }) =>
    [0, 1, 2].flatMap((inversion) => {
      const turned = [...notes.slice(inversion), ...notes.slice(0, inversion)].map(({ name }) => name);
      return below.map((pair): VoicingForm => ({
        name: 'upper structure',
        notes: [...pair.notes, ...turned],
        left: pair.notes.length,
        triad: { root: (notes[0] as ColourTone).name, quality },
      }));
    }),
  );
}
