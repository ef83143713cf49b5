import { HEADER_NAMES, type HeaderName } from '../chart-line.ts';
import { placesOf, type ChartPlaces, type HeaderPlace } from './places.ts';
import { applyEdits, lineEndOf, takeLine, takeWords, type TextEdit } from './text-edit.ts';

const rankOf = (name: HeaderName): number => HEADER_NAMES.indexOf(name);

/** The heading of that name above the first bar; the one that counts where there are two. */
function headingOf(places: ChartPlaces, name: HeaderName): HeaderPlace | undefined {
  return places.headers.find(({ header, barsBefore }) => header === name && barsBefore === 0);
}

/** A new heading line, at its place in the usual order. */
function newLine(text: string, places: ChartPlaces, name: HeaderName, value: string): TextEdit {
  const lineEnd = lineEndOf(text);
  const line = `${name}: ${value}`;
  const headings = places.headers.filter(({ barsBefore }) => barsBefore === 0);
  const before = headings.filter(({ header }) => rankOf(header) < rankOf(name)).at(-1);
  if (before !== undefined) return { start: before.line.end, end: before.line.end, words: lineEnd + line };
  const after = headings[0];
  if (after !== undefined) return { start: after.line.start, end: after.line.start, words: line + lineEnd };
  // above the music, below comments on the chart as a whole
  const [bom = '', comments = ''] = /^(\uFEFF?(?:[^\S\n\r]*#[^\n\r]*(?:\r\n|\n|\r))*)/u.exec(text) ?? [];
  const at = Math.max(bom.length, comments.length);
  const isBlankNext = /^[^\S\n\r]*(?:$|[\n\r])/u.test(text.slice(at));
  return { start: at, end: at, words: line + lineEnd + (isBlankNext ? '' : lineEnd) };
}

/**
 * Writes a heading; an empty value takes it out. All else stays as it was.
 * @param value as it is written in a chart; line breaks become spaces
 * @example setHeading('| Fm7 |', 'tempo', '132') // → 'tempo: 132\n\n| Fm7 |'
 */
export function setHeading(text: string, name: HeaderName, value: string): string {
  const places = placesOf(text);
  const words = value.replaceAll(/\s+/gu, ' ').trim();
  const heading = headingOf(places, name);
  const edits: TextEdit[] = [];
  // a metre written in the first bar would overrule the heading
  const first = places.bars[0];
  if (name === 'meter' && first?.meter) edits.push(takeWords(text, first.meter));
  if (heading === undefined) {
    if (words !== '') edits.push(newLine(text, places, name, words));
  } else if (words === '') {
    edits.push(takeLine(text, heading.line));
  } else {
    const isTight = text[heading.value.start - 1] === ':';
    edits.push({ ...heading.value, words: (isTight && heading.text === '' ? ' ' : '') + words });
  }
  return applyEdits(text, edits);
}
