import { accidentalsOf, letterOf, typeset, type Chord, type ChordSymbol, type NoteName } from '@fivespan/core';
import { kindOfChord, type DegreeChange } from './chord-kind.ts';
import { element, type XmlElement } from './xml.ts';

/** Whom the file is for: other programs read degrees exactly; our engraver prints what a symbol's text says. */
export type Purpose = 'exchange' | 'engraving';

function pitchStep(prefix: 'root' | 'bass', name: NoteName): XmlElement {
  const alter = accidentalsOf(name);
  return element(
    prefix,
    {},
    element(`${prefix}-step`, {}, letterOf(name)),
    alter !== 0 && element(`${prefix}-alter`, {}, alter),
  );
}

/** A change as it is printed inside a symbol's parentheses: `b9`, `#11`, `omit3`. */
function printedChange(change: DegreeChange): string {
  if (change.type === 'subtract') return `omit${change.value}`;
  return (change.alter < 0 ? 'b' : '#').repeat(Math.abs(change.alter)) + change.value;
}

function degreeElement(change: DegreeChange, isPrinted: boolean): XmlElement {
  return element(
    'degree',
    { 'print-object': isPrinted ? undefined : 'no' },
    element('degree-value', {}, change.value),
    element('degree-alter', {}, change.alter),
    element('degree-type', { text: isPrinted && change.type !== 'subtract' ? '' : undefined }, change.type),
  );
}

function kindAndDegrees(chord: Chord): XmlElement[] {
  const { kind, changes } = kindOfChord(chord);
  const list = `(${changes.map(printedChange).join(',')})`;
  const isPrinted = changes.length > 0 && chord.suffix.endsWith(list);
  const base = isPrinted ? chord.suffix.slice(0, -list.length) : chord.suffix;
  return [
    element('kind', { text: typeset(base), 'parentheses-degrees': isPrinted ? 'yes' : undefined }, kind),
    ...(chord.bass === null ? [] : [pitchStep('bass', chord.bass)]),
    ...changes.map((change) => degreeElement(change, isPrinted)),
  ];
}

/** Text on the line of the symbols or numerals: the engraver prints a numeral's text as it is, and nothing else of it. */
function textHarmony(
  placement: 'above' | 'below',
  text: string,
  value: number,
  offsetTicks: number,
  staff: number,
): XmlElement {
  return element(
    'harmony',
    { placement },
    element('numeral', {}, element('numeral-root', { text }, value)),
    element('kind', { text: '' }, 'none'),
    offsetTicks !== 0 && element('offset', {}, offsetTicks),
    element('staff', {}, staff),
  );
}

/**
 * A chord symbol over a staff.
 * @param offsetTicks from the place in the measure where the element stands
 * @param staff of its part, from 1
 */
export function harmonyElement(chord: ChordSymbol, offsetTicks: number, staff: number, purpose: Purpose): XmlElement {
  if (purpose === 'engraving') return textHarmony('above', typeset(chord.symbol), 1, offsetTicks, staff);
  const content =
    chord.kind === 'no chord'
      ? [element('root', {}, element('root-step', { text: '' }, 'C')), element('kind', { text: chord.symbol }, 'none')]
      : [pitchStep('root', chord.root), ...kindAndDegrees(chord)];
  return element(
    'harmony',
    { placement: 'above' },
    content,
    offsetTicks !== 0 && element('offset', {}, offsetTicks),
    element('staff', {}, staff),
  );
}

const NUMERALS = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII'];

/** A Roman numeral below a staff, as text; undefined where the text holds no numeral. */
export function numeralElement(numeral: string, offsetTicks: number, staff: number): XmlElement | undefined {
  const roman = /[IV]+|[iv]+/u.exec(numeral.replace('sub', ''))?.[0].toUpperCase() ?? '';
  const value = NUMERALS.indexOf(roman) + 1;
  if (value === 0) return undefined;
  return textHarmony('below', typeset(numeral), value, offsetTicks, staff);
}
