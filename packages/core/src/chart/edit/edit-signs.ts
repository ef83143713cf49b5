import { formatJump, type MarkName } from '../bar-directions.ts';
import type { Jump } from '../chart.ts';
import { formatMeter, type Meter } from '../meter.ts';
import { barLineAt, formatBarLine } from './bar-line.ts';
import { setHeading } from './edit-headings.ts';
import { barPlaceAt, placesOf, type BarPlace } from './places.ts';
import { applyEdits, putWords, takeLine, takeWords, type TextEdit } from './text-edit.ts';

/**
 * Begins a repeat at a bar, or begins none there.
 * @param index the bar's, from 0
 * @throws RangeError where the chart has no such bar
 * @example setRepeatStart('| Fm7 | Bb7 :|', 1, true) // → '| Fm7 |: Bb7 :|'
 */
export function setRepeatStart(text: string, index: number, isThere: boolean): string {
  const bar = barPlaceAt(placesOf(text), index);
  if (bar.opensRepeat === isThere) return text;
  const line = barLineAt(text, bar.lineBefore);
  if (bar.lineBefore !== null && line.opens !== isThere) {
    return applyEdits(text, [{ ...bar.lineBefore, words: formatBarLine({ ...line, opens: isThere }) }]);
  }
  if (isThere) return applyEdits(text, [putWords(text, { start: bar.words.start, end: bar.words.start }, '|:')]);
  // the sign waits for its bar at the end of a line before
  const start = text.lastIndexOf('|:', bar.words.start);
  return applyEdits(text, [{ start, end: start + 2, words: '|' }]);
}

/**
 * Ends a repeat after a bar, or ends none there.
 * @param times how often it is played in all, 2 to 32; null for no sign
 * @throws RangeError where the chart has no such bar, or times is out of its range
 * @example setRepeatEnd('|: Fm7 | Bb7 |', 1, 3) // → '|: Fm7 | Bb7 :|x3'
 */
export function setRepeatEnd(text: string, index: number, times: number | null): string {
  if (times !== null && !(Number.isInteger(times) && times >= 2 && times <= 32)) {
    throw new RangeError('times must be a whole number from 2 to 32');
  }
  const bar = barPlaceAt(placesOf(text), index);
  const line = barLineAt(text, bar.lineAfter);
  const isThere = times !== null;
  if (bar.lineAfter !== null && (line.closes || isThere)) {
    return applyEdits(text, [{ ...bar.lineAfter, words: formatBarLine({ ...line, closes: isThere, times }) }]);
  }
  if (isThere) {
    const sign = formatBarLine({ ...line, closes: true, times });
    return applyEdits(text, [putWords(text, { start: bar.words.end, end: bar.words.end }, sign)]);
  }
  if (!bar.closesRepeat) return text;
  // the sign stands at the beginning of a line after
  const start = text.indexOf(':|', bar.words.end);
  return applyEdits(text, [{ start, end: start + 2, words: '|' }]);
}

/**
 * Begins an ending at a bar, or begins none there.
 * @param numbers the times through it is for, 1 to 4 in rising order; empty for none
 * @throws RangeError where the chart has no such bar, or a number is out of its range
 * @example setEnding('|: Fm7 | Bb7 :|', 1, [1]) // → '|: Fm7 | 1. Bb7 :|'
 */
export function setEnding(text: string, index: number, numbers: readonly number[]): string {
  if (numbers.some((each) => !Number.isInteger(each) || each < 1 || each > 4)) {
    throw new RangeError('numbers must be whole numbers from 1 to 4');
  }
  const bar = barPlaceAt(placesOf(text), index);
  if (numbers.length === 0) return bar.ending === null ? text : applyEdits(text, [takeWords(text, bar.ending)]);
  const words = `${numbers.join('.')}.`;
  if (bar.ending !== null) return applyEdits(text, [{ start: bar.ending.start, end: bar.ending.end, words }]);
  return applyEdits(text, [putWords(text, { start: bar.words.start, end: bar.words.start }, words)]);
}

/**
 * Sets the metre from a bar on, up to the next metre written; null takes the change out. In the first bar it is the
 * chart's own.
 * @throws RangeError where the chart has no such bar
 * @example setBarMeter('| Fm7 | Bb7 |', 1, { count: 3, unit: 4 }) // → '| Fm7 | 3/4 Bb7 |'
 */
export function setBarMeter(text: string, index: number, meter: Meter | null): string {
  if (index === 0) return setHeading(text, 'meter', meter === null ? '' : formatMeter(meter));
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  const edits: TextEdit[] = places.headers
    .filter(({ header, barsBefore }) => header === 'meter' && barsBefore === index)
    .map(({ line }) => takeLine(text, line));
  if (meter === null) {
    if (bar.meter !== null) edits.push(takeWords(text, bar.meter));
  } else if (bar.meter !== null) {
    edits.push({ ...bar.meter, words: formatMeter(meter) });
  } else {
    edits.push(putWords(text, beforeChords(bar), formatMeter(meter)));
  }
  return applyEdits(text, edits);
}

/** Where what comes before the chords is put: after the ending's number. */
function beforeChords(bar: BarPlace): { readonly start: number; readonly end: number } {
  const at = bar.meter?.end ?? bar.ending?.end ?? bar.words.start;
  return { start: at, end: at };
}

/** Marks that stand at a bar's beginning; the others at its end. Common practice. */
const LEADING_MARKS: ReadonlySet<MarkName> = new Set<MarkName>(['segno', 'coda']);

/**
 * Puts a mark at a bar, or takes it away there. A chart has one of each: another bar that had it loses it.
 * @throws RangeError where the chart has no such bar
 * @example setMark('| Fm7 | Bb7 |', 1, 'fine', true) // → '| Fm7 | Bb7 fine |'
 */
export function setMark(text: string, index: number, mark: MarkName, isThere: boolean): string {
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  const edits = places.bars
    .filter((each) => (each === bar ? !isThere : isThere))
    .flatMap((each) => each.marks.filter((place) => place.mark === mark).map((place) => takeWords(text, place)));
  if (isThere && !bar.marks.some((place) => place.mark === mark)) {
    const jump = bar.jumps[0];
    const place = LEADING_MARKS.has(mark)
      ? beforeChords(bar)
      : { start: jump?.start ?? bar.words.end, end: jump?.start ?? bar.words.end };
    edits.push(putWords(text, place, mark));
  }
  return applyEdits(text, edits);
}

/**
 * Puts a jump at a bar's end, or takes it away there. A chart has one: another bar that had one loses it.
 * @throws RangeError where the chart has no such bar
 * @example setJump('| Fm7 fine | Bb7 |', 1, { kind: 'da capo', until: 'fine' }) // → '| Fm7 fine | Bb7 D.C. al fine |'
 */
export function setJump(text: string, index: number, jump: Jump | null): string {
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  const edits = places.bars
    .filter((each) => each !== bar && jump !== null)
    .flatMap((each) => each.jumps.map((place) => takeWords(text, place)));
  const [first, ...more] = bar.jumps;
  edits.push(...more.map((place) => takeWords(text, place)));
  if (jump === null) {
    if (first !== undefined) edits.push(takeWords(text, first));
  } else if (first === undefined) {
    edits.push(putWords(text, { start: bar.words.end, end: bar.words.end }, formatJump(jump)));
  } else {
    edits.push({ start: first.start, end: first.end, words: formatJump(jump) });
  }
  return applyEdits(text, edits);
}
