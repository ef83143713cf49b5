import { degree, type Degree, type Key } from '../../theory/index.ts';
import type { ChordClass, HarmonicEvent } from './event.ts';
import { modeOfClass, type HarmonicFunction } from './harmonic-function.ts';

/** Degrees by semitones above the tonic, as numerals name them: ♭II, ♭III, ♭V, ♭VI, ♭VII. Common practice. */
const DEGREE_TEXTS = ['1', 'b2', '2', 'b3', '3', '4', 'b5', '5', 'b6', '6', 'b7', '7'] as const;
/** … where the chord leads up a half step or is a raised fourth: ♯I, ♯II, ♯IV, ♯V, ♯VI. Common practice. */
const RAISED_TEXTS: Readonly<Record<number, string>> = { 1: '#1', 3: '#2', 6: '#4', 8: '#5', 10: '#6' };

const ROMANS = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII'] as const;

/** Whether a chord on this place is named as a raised degree: ♯iv always, diminished chords that rise. */
function isRaised(place: number, chordClass: ChordClass, chosen: HarmonicFunction): boolean {
  if (place === 6 && (chordClass === 'h' || chordClass === 'o' || chordClass === 'm')) return true;
  return chordClass === 'o' && chosen.target === (place + 1) % 12;
}

/** The degree of a place above the tonic, spelled as the numeral names it. */
export function degreeOfPlace(place: number, raised = false): Degree {
  return degree((raised ? RAISED_TEXTS[place] : undefined) ?? (DEGREE_TEXTS[place] as string));
}

function roman(place: number, mode: Key['mode'], raised = false): string {
  const text = (raised ? RAISED_TEXTS[place] : undefined) ?? (DEGREE_TEXTS[place] as string);
  const accidentals = text.slice(0, -1);
  const numeral = ROMANS[Number(text.at(-1)) - 1] as string;
  return accidentals + (mode === 'minor' ? numeral.toLowerCase() : numeral);
}

/** The numeral of a degree that is led to: `ii`, `IV`, `bVII`. */
export function romanOfTarget(target: number, mode: Key['mode'] | null): string {
  return roman(target, mode ?? 'major');
}

/**
 * A chord's numeral, ASCII, in the usual jazz form: lower case where the chord has a minor third, then its suffix
 * (`iim7`, `V7(b9)`, `Imaj7`, `#ivdim7`, `bVII7`); applied chords name what they lead to (`V7/ii`, `subV7/IV`, `iim7/IV`).
 * Degrees count against the major scale on the tonic in minor too (`bIIImaj7`, `bVI7`). Common practice.
 */
export function formatNumeral(
  { chordClass, suffix }: Pick<HarmonicEvent, 'chordClass' | 'suffix'>,
  place: number,
  chosen: HarmonicFunction,
): string {
  const { style, target, targetMode, goalCase } = chosen;
  const own = modeOfClass(chordClass);
  if (style === 'degree' || target === null) return roman(place, own, isRaised(place, chordClass, chosen)) + suffix;
  const goal = target === 0 ? '' : `/${romanOfTarget(target, goalCase ?? targetMode)}`;
  switch (style) {
    case 'V of':
      return `V${suffix}${goal}`;
    case 'subV of':
      return `subV${suffix}${goal}`;
    case 'ii of':
      return `ii${suffix}${goal}`;
    default:
      return style satisfies never;
  }
}
