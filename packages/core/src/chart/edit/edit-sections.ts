import { formatKey, type Key } from '../../theory/index.ts';
import { sectionName } from '../write-chart.ts';
import { barLineAt, formatBarLine } from './bar-line.ts';
import { lineSpanOf } from './edit-bars.ts';
import { setHeading } from './edit-headings.ts';
import { barPlaceAt, placesOf, type ChartPlaces } from './places.ts';
import { applyEdits, lineEndOf, takeLine, type TextEdit } from './text-edit.ts';

/** Puts lines before a bar, which then begins a line of its own. */
function linesBefore(text: string, places: ChartPlaces, index: number, lines: readonly string[]): TextEdit {
  const bar = barPlaceAt(places, index);
  const lineEnd = lineEndOf(text);
  const written = lines.join(lineEnd) + lineEnd;
  if (places.bars[index - 1]?.line !== bar.line || bar.lineBefore === null) {
    const { start } = lineSpanOf(text, places, bar);
    return { start, end: start, words: written };
  }
  const line = barLineAt(text, bar.lineBefore);
  const blanks = /^[^\S\n\r]*/u.exec(text.slice(bar.lineBefore.end))?.[0].length ?? 0;
  return {
    start: bar.lineBefore.start,
    end: bar.lineBefore.end + blanks,
    words: `${formatBarLine({ ...line, opens: false })}${lineEnd}${written}${line.opens ? '|:' : '|'} `,
  };
}

/**
 * Begins a section at a bar; where one begins there, names it.
 * @param name without a name, `A` stands for it
 * @throws RangeError where the chart has no such bar
 * @example startSection('| Fm7 | Bb7 |', 1, 'B') // → '| Fm7 |\n\nB:\n| Bb7 |'
 */
export function startSection(text: string, index: number, name: string): string {
  const places = placesOf(text);
  const bar = barPlaceAt(places, index);
  const section = places.sections[bar.section];
  if (section?.firstBar === index && section.name !== null) return renameSection(text, bar.section, name);
  const edit = linesBefore(text, places, index, [`${sectionName(name)}:`]);
  const before = text.slice(0, edit.start);
  const isMidLine = edit.end > edit.start;
  const isAfterBlank = before === '' || /(?:^|\r\n|\n|\r(?!\n))[^\S\n\r]*(?:\r\n|\n|\r)$/u.test(before);
  const lineEnd = lineEndOf(text);
  if (!isMidLine) return applyEdits(text, [{ ...edit, words: (isAfterBlank ? '' : lineEnd) + edit.words }]);
  const [closing = '', ...rest] = edit.words.split(lineEnd);
  return applyEdits(text, [{ ...edit, words: [closing, '', ...rest].join(lineEnd) }]);
}

/**
 * Renames a section that has a name; without a new one it is joined to the section before.
 * @param index the section's, from 0
 * @throws RangeError where the chart has no such section, or it has no name
 */
export function renameSection(text: string, index: number, name: string): string {
  const places = placesOf(text);
  const section = places.sections[index];
  if (section === undefined || section.name === null) {
    throw new RangeError('index must be that of a section with a name');
  }
  const { start, end } = section.name;
  const colon = text.indexOf(':', end);
  if (name.trim() !== '') {
    // a bar line right behind the colon could make a chord of the name, with the end of a repeat
    const isTight = text[colon + 1] === '|';
    return applyEdits(text, [{ start, end: colon + 1, words: `${sectionName(name)}:${isTight ? ' ' : ''}` }]);
  }
  const bar = places.bars[section.firstBar];
  const isOnItsLine = bar === undefined || lineSpanOf(text, places, bar).start > start;
  if (!isOnItsLine) {
    const blanks = /^[^\S\n\r]*/u.exec(text.slice(colon + 1))?.[0].length ?? 0;
    return applyEdits(text, [{ start, end: colon + 1 + blanks, words: '' }]);
  }
  const lineStart = Math.max(text.lastIndexOf('\n', start), text.lastIndexOf('\r', start)) + 1;
  const length = /^[^\n\r]*/u.exec(text.slice(lineStart))?.[0].length ?? 0;
  return applyEdits(text, [takeLine(text, { start: lineStart, end: lineStart + length })]);
}

/**
 * Sets the key signature from a bar on, up to the next; null takes the change out. At the first bar it is the chart's.
 * @throws RangeError where the chart has no such bar
 */
export function setKeyChange(text: string, index: number, key: Key | null): string {
  const value = key === null ? '' : formatKey(key);
  if (index === 0) return setHeading(text, 'key', value);
  const places = placesOf(text);
  barPlaceAt(places, index);
  const [there, ...more] = places.headers.filter(({ header, barsBefore }) => header === 'key' && barsBefore === index);
  const edits: TextEdit[] = more.map(({ line }) => takeLine(text, line));
  if (there === undefined) {
    if (key !== null) edits.push(linesBefore(text, places, index, [`key: ${value}`]));
  } else {
    edits.push(key === null ? takeLine(text, there.line) : { ...there.value, words: value });
  }
  return applyEdits(text, edits);
}
