import { TICKS_PER_QUARTER } from '../../chart/index.ts';
import { isFinger } from '../../hand/index.ts';
import { motiveFault, type MotiveFault, type MotiveNote, type MotivePin } from './motive-pin.ts';

/** Parts of a whole note that a value may be. Common practice. */
const VALUES = [1, 2, 4, 8, 16] as const;

/** The ticks of a note value: `4` a quarter, `8` an eighth, `4.` dotted, `8t` one of a triplet; undefined where it is none. */
function ticksOfValue(text: string): number | undefined {
  const [, number = '', mark = ''] = /^(\d{1,2})([.t]?)$/u.exec(text) ?? [];
  const value = VALUES.find((each) => String(each) === number);
  if (value === undefined) return undefined;
  const plain = (4 * TICKS_PER_QUARTER) / value;
  if (mark === '.') return (plain * 3) / 2;
  return mark === 't' ? (plain * 2) / 3 : plain;
}

/** Every value that can be written, the longest first. */
const WRITTEN = VALUES.flatMap((value) => ['.', '', 't'].map((mark) => `${value}${mark}`))
  .map((text) => ({ text, ticks: ticksOfValue(text) as number }))
  .filter(({ ticks }) => Number.isInteger(ticks))
  .toSorted((a, b) => b.ticks - a.ticks);

/** A length as values one after another; what no value can say is left out. */
function valuesOf(ticks: number): string[] {
  const values: string[] = [];
  let left = ticks;
  while (left > 0) {
    const value = WRITTEN.find((each) => each.ticks === left) ?? WRITTEN.find((each) => each.ticks <= left);
    if (value === undefined) break;
    values.push(value.text);
    left -= value.ticks;
  }
  return values;
}

const FAULT_TEXT: Readonly<Record<MotiveFault, string>> = {
  'too few notes': 'it has fewer than three notes',
  'too many notes': 'it has more than six notes',
  'too long': 'it is longer than two bars of four',
  'not in order': 'its notes lie one over another',
};

/**
 * A motive as one writes it: fingers, a colon, a note value for each (1 whole, 2 half, 4 quarter, 8, 16; a dot; t for a triplet's), r before a
 * value that is a rest.
 * @returns the motive, or what is wrong with the text in words
 * @example parseMotive('1 2 4 3 : 8 8 4 4')
 */
export function parseMotive(text: string): MotivePin | string {
  const [fingersText, valuesText, ...more] = text.split(':');
  const fingers = (fingersText ?? '').trim().split(/[\s-]+/u);
  const values = (valuesText ?? '').trim().split(/\s+/u);
  if (valuesText === undefined || more.length > 0) {
    return 'it takes fingers, a colon and a note value for each, such as 1 2 4 3 : 8 8 4 4';
  }
  const notes: MotiveNote[] = [];
  let onsetTicks = 0;
  for (const value of values) {
    const isRest = value.startsWith('r');
    const durationTicks = ticksOfValue(isRest ? value.slice(1) : value);
    if (durationTicks === undefined || (isRest && notes.length === 0)) {
      return isRest && notes.length === 0
        ? 'it begins with a note, not a rest'
        : `'${value}' is no note value; it takes 1, 2, 4, 8 or 16, with a dot or t for a triplet, r before it for a rest`;
    }
    if (!isRest) {
      const finger = Number(fingers[notes.length]);
      if (!isFinger(finger)) {
        return `it has ${values.filter((each) => !each.startsWith('r')).length} notes and needs a finger from 1 (the thumb) to 5 for each, not '${fingersText?.trim()}'`;
      }
      notes.push({ onsetTicks, durationTicks, finger });
    }
    onsetTicks += durationTicks;
  }
  if (notes.length < fingers.length) return `it has ${fingers.length} fingers but ${notes.length} notes`;
  const fault = motiveFault({ notes });
  return fault === null ? { notes } : FAULT_TEXT[fault];
}

/**
 * A motive as parseMotive reads it. A note longer than one value is written with the rest of it as a rest.
 * @example formatMotive(parseMotive('1 2 4 3 : 8 8 4 4') as MotivePin) // '1 2 4 3 : 8 8 4 4'
 */
export function formatMotive({ notes }: MotivePin): string {
  const values = notes.flatMap(({ onsetTicks, durationTicks }, index) => {
    const [first = '16', ...tail] = valuesOf(durationTicks);
    const next = notes[index + 1];
    const gap = next === undefined ? 0 : next.onsetTicks - onsetTicks - durationTicks;
    const rests = next === undefined ? [] : [...tail, ...valuesOf(gap)];
    return [first, ...rests.map((value) => `r${value}`)];
  });
  return `${notes.map(({ finger }) => finger).join(' ')} : ${values.join(' ')}`;
}
