import { barsOf, type Bar } from '../chart.ts';
import { readAround } from '../read-around.ts';
import { chordsText } from '../write-chart.ts';
import { barLineAt, formatBarLine, isPlainLine, mergeBarLines } from './bar-line.ts';
import { barPlaceAt, placesOf, type BarPlace, type ChartPlaces, type TextSpan } from './places.ts';
import { applyEdits, lineEndOf, putWords, takeLine, takeWords, type TextEdit } from './text-edit.ts';

/** What a bar holds in which nothing is written. */
export const NOBODY_PLAYS = 'N.C.';

/** Words that can stand in one bar: bar lines and colons would end it. */
function wordsOfBar(words: string): string {
  const plain = words.replaceAll(/[\s|:]+/gu, ' ').trim();
  return plain === '' ? NOBODY_PLAYS : plain;
}

/**
 * Writes a bar's chords; its ending, metre and marks stay. Nothing written is `N.C.`.
 * @param index the bar's, from 0
 * @throws RangeError where the chart has no such bar
 * @example setBarChords('| Fm7 | Bb7 |', 1, 'Bb7 E7') // → '| Fm7 | Bb7 E7 |'
 */
export function setBarChords(text: string, index: number, chords: string): string {
  return applyEdits(text, [chordsEdit(text, barPlaceAt(placesOf(text), index), chords)]);
}

function chordsEdit(text: string, bar: BarPlace, chords: string): TextEdit {
  const words = wordsOfBar(chords);
  if (bar.cells.length === 0) return putWords(text, bar.chords, words);
  const before = text.slice(0, bar.chords.start);
  // where it would be read as a comment, or as a part of the bar line or of a count before it
  const isComment = words.startsWith('#') && /(?:^|[\n\r])\s*$/u.test(before);
  const isPartOfLine = /^[\]x×\d]/u.test(words) && /[|\]]$/u.test(before);
  return { ...bar.chords, words: `${isComment ? '| ' : isPartOfLine ? ' ' : ''}${words}` };
}

/**
 * What keeps a bar's chords when another comes before it, or the one before it goes: `%` and a `/` at its beginning are
 * written out.
 */
function standAlone(bar: BarPlace | undefined, read: Bar | undefined): TextEdit[] {
  const cell = bar?.cells[0];
  const chord = read?.slots[0]?.chord;
  if (bar === undefined || read === undefined || cell === undefined || chord === undefined) return [];
  if (cell.text === '%' || cell.text === '𝄎') return [{ ...cell, words: chordsText(read) }];
  if (cell.text === '/' || cell.text.startsWith('/&')) {
    return [{ start: cell.start, end: cell.start + 1, words: chord.symbol }];
  }
  return [];
}

const readBars = (text: string): readonly Bar[] => {
  const { chart } = readAround(text);
  return chart === null ? [] : barsOf(chart);
};

/**
 * Puts a bar after another: inside the repeat, ending and section the other is in. Index 0 … of the bar before it; the
 * new one has the next.
 * @throws RangeError where the chart has no such bar
 * @example insertBarAfter('|: Fm7 :|', 0, 'Bb7') // → '|: Fm7 | Bb7 :|'
 */
export function insertBarAfter(text: string, index: number, chords: string = NOBODY_PLAYS): string {
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  const at = { start: bar.words.end, end: bar.words.end };
  // an empty bar has nothing its new bar line could stand after
  const words =
    bar.words.start === bar.words.end ? `${NOBODY_PLAYS} | ${wordsOfBar(chords)}` : `| ${wordsOfBar(chords)}`;
  return applyEdits(text, [
    putWords(text, at, words),
    ...standAlone(places.bars[index + 1], readBars(text)[index + 1]),
  ]);
}

/**
 * Puts a bar before another: inside the repeat and section that begin there, before its ending and metre. Where the ending
 * before closes right there, nothing can stand between the two, and the new bar is the ending's first. The new one has its index.
 * @throws RangeError where the chart has no such bar
 * @example insertBarBefore('|: Fm7 :|', 0, 'C7') // → '|: C7 | Fm7 :|'
 */
export function insertBarBefore(text: string, index: number, chords: string = NOBODY_PLAYS): string {
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  const followsEnding = bar.ending !== null && barLineAt(text, bar.lineBefore).closes;
  const start = followsEnding ? bar.chords.start : bar.words.start;
  const at = { start, end: start };
  const [written] = standAlone(bar, readBars(text)[index]);
  const words = `${wordsOfBar(chords)} |`;
  if (bar.cells[0] !== undefined && written !== undefined && written.start === at.start) {
    return applyEdits(text, [{ ...written, words: `${words} ${written.words}` }]);
  }
  return applyEdits(text, [putWords(text, at, words), ...(written === undefined ? [] : [written])]);
}

/** Bars of a line as they are usually written. */
const BARS_IN_LINE = 4;

/**
 * Puts a bar at a chart's end, after whatever ends there, on a line of its own where the last is full; a chart without
 * bars gets its first.
 * @example appendBar('|: Fm7 :|', 'Bb7') // → '|: Fm7 :| Bb7 |'
 */
export function appendBar(text: string, chords: string = NOBODY_PLAYS): string {
  const places = placesOf(text);
  const words = wordsOfBar(chords);
  const last = places.bars.at(-1);
  const lineEnd = lineEndOf(text);
  if (last === undefined) {
    const isOpen = text !== '' && !/[\n\r]$/u.test(text);
    const isAfterBlank = text === '' || /(?:\r\n|\n|\r(?!\n)|:)[^\S\n\r]*(?:\r\n|\n|\r)$/u.test(text);
    return `${text}${isOpen ? lineEnd + lineEnd : isAfterBlank ? '' : lineEnd}| ${words} |${lineEnd}`;
  }
  // a bar line too many at the end leaves an empty bar: it is the one that is written
  if (last.words.start === last.words.end && last.lineAfter !== null && places.bars.length > 1) {
    return applyEdits(text, [{ start: last.words.start, end: last.lineAfter.end, words: ` ${words} |` }]);
  }
  const end = last.lineAfter?.end ?? text.length;
  // bar lines alone after the last bar's, on lines of their own perhaps: they end nothing, and would end the new bar; nor
  // does a second `:|` after the one that ends the repeat
  const [stray = ''] = /^[\s|:]*[|:]/u.exec(text.slice(end)) ?? [];
  const isSecondEnd = stray.includes(':') && barLineAt(text, last.lineAfter).closes;
  if ((isSecondEnd || /[\n\r]/u.test(stray)) && text.slice(end + stray.length).trim() === '') {
    return appendBar(text.slice(0, end) + text.slice(end + stray.length), chords);
  }
  const inLine = places.bars.filter((bar) => bar.line === last.line).length;
  if (inLine >= BARS_IN_LINE) {
    const line = lineSpanOf(text, places, last);
    return applyEdits(text, [{ start: line.end, end: line.end, words: `${lineEnd}| ${words} |` }]);
  }
  const at = last.lineAfter?.end ?? last.words.end;
  // a bar line too many at the end is none after the last bar, and would be an empty bar's after one more
  const spare = /^[^\S\n\r]*\|+(?=[^\S\n\r]*(?:$|[\n\r]))/u.exec(text.slice(at));
  if (spare !== null && last.lineAfter !== null) {
    return applyEdits(text, [{ start: at, end: at + spare[0].length, words: ` ${words} |` }]);
  }
  return applyEdits(text, [putWords(text, { start: at, end: at }, `${last.lineAfter === null ? '| ' : ''}${words} |`)]);
}

/** The line a bar is in, without its end. */
export function lineSpanOf(text: string, places: ChartPlaces, bar: BarPlace): TextSpan {
  const start = places.lineStarts[bar.line - 1] as number;
  const next = places.lineStarts[bar.line] ?? text.length;
  return { start, end: start + text.slice(start, next).replace(/[\n\r]+$/u, '').length };
}

/** What the next bar takes over from one that goes: its metre, and its ending where that goes on. */
function takenOver(text: string, bar: BarPlace, next: BarPlace | undefined): string {
  if (next === undefined) return '';
  const line = barLineAt(text, bar.lineAfter);
  const endingGoesOn = bar.ending !== null && next.ending === null && !line.closes && !line.isDouble && !line.opens;
  const words = [
    ...(endingGoesOn && bar.ending !== null ? [text.slice(bar.ending.start, bar.ending.end)] : []),
    ...(bar.meter !== null && next.meter === null ? [text.slice(bar.meter.start, bar.meter.end)] : []),
  ];
  return words.join(' ');
}

/**
 * Takes a bar out. What stood round it stays: the repeat it began or ended begins or ends at its neighbour, its metre
 * holds for the next bar, `%` after it is written out. A section's only bar takes the section with it; a chart's only
 * bar becomes `N.C.`.
 * @throws RangeError where the chart has no such bar
 * @example removeBar('|: Fm7 | Bb7 :|', 1) // → '|: Fm7 :|'
 */
export function removeBar(text: string, index: number): string {
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  if (places.bars.length === 1) return setBarChords(text, 0, NOBODY_PLAYS);
  const next = places.bars[index + 1];
  const over = takenOver(text, bar, next);
  const edits: TextEdit[] = [...standAlone(next, readBars(text)[index + 1])];
  if (over !== '' && next !== undefined) {
    const [first] = edits;
    const at = next.words.start;
    if (first?.start === at) edits[0] = { ...first, words: `${over} ${first.words}` };
    else edits.push(putWords(text, { start: at, end: at }, over));
  }
  if (bar.number === 0) {
    edits.push(...places.headers.filter(({ header }) => header === 'pickup').map(({ line }) => takeLine(text, line)));
  }
  edits.push(...withoutBar(text, places, bar));
  return applyEdits(text, edits);
}

function withoutBar(text: string, places: ChartPlaces, bar: BarPlace): TextEdit[] {
  const before = barLineAt(text, bar.lineBefore);
  const after = barLineAt(text, bar.lineAfter);
  const merged = mergeBarLines(before, after);
  const section = places.sections[bar.section];
  const isOnlyInLine = !places.bars.some((each) => each !== bar && each.line === bar.line);
  const nameGoes = section?.name !== null && section?.barCount === 1;
  if (isOnlyInLine && isPlainLine(merged)) {
    const line = lineSpanOf(text, places, bar);
    const nameSpan = section?.name ?? null;
    const isNamedHere = nameSpan !== null && nameSpan.start >= line.start && nameSpan.end <= line.end;
    // a name before it on its line goes on to the section's next line
    if (isNamedHere && !nameGoes) {
      const start = bar.lineBefore?.start ?? bar.words.start;
      return [{ start, end: line.end, words: '' }];
    }
    const named = nameGoes && nameSpan !== null && !isNamedHere ? [takeLine(text, lineAround(text, nameSpan))] : [];
    return [takeLine(text, line), ...named];
  }
  const named =
    nameGoes && section?.name != null
      ? [{ start: section.name.start, end: text.indexOf(':', section.name.end) + 1, words: '' }]
      : [];
  if (bar.lineBefore === null) {
    if (bar.lineAfter === null) return [takeWords(text, bar.words), ...named];
    const blanks = /^[^\S\n\r]*/u.exec(text.slice(bar.lineAfter.end))?.[0].length ?? 0;
    const end = isPlainLine(after) ? bar.lineAfter.end + blanks : bar.lineAfter.start;
    return [{ start: bar.words.start, end, words: '' }, ...named];
  }
  const end = bar.lineAfter?.end ?? bar.words.end;
  const written =
    bar.lineAfter !== null && isPlainLine(before)
      ? text.slice(bar.lineAfter.start, bar.lineAfter.end)
      : isPlainLine(after)
        ? text.slice(bar.lineBefore.start, bar.lineBefore.end)
        : formatBarLine(merged);
  return [{ start: bar.lineBefore.start, end, words: written }, ...named];
}

function lineAround(text: string, span: TextSpan): TextSpan {
  const start = Math.max(text.lastIndexOf('\n', span.start - 1), text.lastIndexOf('\r', span.start - 1)) + 1;
  const length = /^[^\n\r]*/u.exec(text.slice(start))?.[0].length ?? 0;
  return { start, end: start + length };
}
