import { formatDegree, formatNoteName, typeset, type ChordSymbol, type Degree, type NoteName } from '@fivespan/core';

/**
 * A note name as it is printed.
 * @example noteText(noteName('Bb')) // → 'B♭'
 */
export function noteText(name: NoteName): string {
  return typeset(formatNoteName(name));
}

/**
 * A degree as it is printed: `♭3`, `♯11`.
 * @example degreeText(degree('b9'), 'extension') // → '♭9'
 */
export function degreeText(value: Degree, as: 'octave' | 'extension' = 'octave'): string {
  return typeset(formatDegree(value, as));
}

/** The parts of a chord symbol that are set apart in print. */
export interface ChordText {
  readonly root: string;
  /** On the line, after the root: `m7`, `maj7`, `m(maj7)`. */
  readonly quality: string;
  /** Raised, the alterations: `♭5`, `alt`, `(♭9,♭13)`; empty where there are none. */
  readonly raised: string;
  /** The bass after the slash, empty where the root is the bass. */
  readonly bass: string;
}

/**
 * A printed suffix split where the raised part begins: (maj7) names the seventh and belongs to the line; ♭5, alt, (♭9), (add9)
 * are alterations and additions.
 * @example splitSuffix('m7♭5') // → { quality: 'm7', raised: '♭5' }
 */
export function splitSuffix(suffix: string): { quality: string; raised: string } {
  const [, quality = suffix, raised = ''] = /^(.*?)((?:\((?!maj)|(?<=\d)[♭♯]|alt).*)?$/u.exec(suffix) ?? [];
  return { quality, raised };
}

/**
 * A chord symbol's parts as they are printed; N.C. is all root.
 * @example chordText(chord('Bb7(b9)')) // → { root: 'B♭', quality: '7', raised: '(♭9)', bass: '' }
 */
export function chordText(chord: ChordSymbol): ChordText {
  if (chord.kind === 'no chord') return { root: chord.symbol, quality: '', raised: '', bass: '' };
  return {
    root: noteText(chord.root),
    ...splitSuffix(typeset(chord.suffix)),
    bass: chord.bass === null ? '' : noteText(chord.bass),
  };
}

/**
 * A chord symbol on one line.
 * @example chordLine(chord('Ebmaj7(#11)')) // → 'E♭maj7(♯11)'
 */
export function chordLine(chord: ChordSymbol): string {
  const { root, quality, raised, bass } = chordText(chord);
  return root + quality + raised + (bass === '' ? '' : `/${bass}`);
}

/**
 * A Roman numeral as it is printed.
 * @example numeralText('bVII7') // → '♭VII7'
 */
export function numeralText(numeral: string): string {
  return typeset(numeral);
}
