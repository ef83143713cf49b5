import { formatKey, type Key } from '../../theory/index.ts';
import { barsOf, type Chart } from '../chart.ts';
import { readAround } from '../read-around.ts';
import { transposeChart } from '../transpose-chart.ts';
import { writeChart } from '../write-chart.ts';
import { setHeading } from './edit-headings.ts';
import { placesOf, type TextSpan } from './places.ts';
import { applyEdits, type TextEdit } from './text-edit.ts';

/** The chords of a bar's cells one by one: those joined by `&` too; not `/` and `%`, which say none. */
function* chordSpansOf(cells: readonly (TextSpan & { readonly text: string })[]): Generator<TextSpan> {
  for (const cell of cells) {
    let { start } = cell;
    for (const part of cell.text.split('&')) {
      if (part !== '/' && part !== '%' && part !== '𝄎') yield { start, end: start + part.length };
      start += part.length + 1;
    }
  }
}

/**
 * A chart's text in another key: chords and keys change where they stand, all else stays as it was. What is not
 * understood stays as it is written.
 * @param fromKey the key it is in; needed where the chart states none
 * @returns undefined where there is nothing to transpose
 * @throws TypeError where the chart states no key and none is given
 * @example transposeText('key: C major\n| Dm7 | G7 |', parseKey('F major')!) // → 'key: F major\n| Gm7 | C7 |'
 */
export function transposeText(text: string, toKey: Key, fromKey?: Key | null): string | undefined {
  const { chart } = readAround(text);
  if (chart === null) return undefined;
  const moved = transposeChart(chart, toKey, chart.key ?? fromKey ?? null);
  const places = placesOf(text);
  const bars = barsOf(moved);
  const readBars = barsOf(chart);
  const edits: TextEdit[] = [];
  for (const [index, place] of places.bars.entries()) {
    const bar = bars[index];
    const read = readBars[index];
    if (bar === undefined || read === undefined) continue;
    const goesOn = place.cells[0]?.text.startsWith('/') === true;
    for (const [order, span] of [...chordSpansOf(place.cells)].entries()) {
      const slot = order + (goesOn ? 1 : 0);
      const chord = bar.slots[slot]?.chord;
      const before = read.slots[slot]?.chord;
      if (chord?.kind === 'chord' && before?.kind === 'chord') edits.push({ ...span, words: chord.symbol });
    }
  }
  for (const { header, barsBefore, value } of places.headers) {
    const key = header === 'key' && barsBefore > 0 ? bars[barsBefore]?.keyChange : null;
    if (key) edits.push({ ...value, words: formatKey(key) });
  }
  const written = setHeading(applyEdits(text, edits), 'key', formatKey(moved.key as Key));
  const isWhole = sameChords(readAround(written).chart, moved);
  // where a % or / would say another spelling than its own, every chord is written out
  return isWhole || readAround(text).issues.length > 0 ? written : writeChart(moved);
}

function sameChords(a: Chart | null, b: Chart): boolean {
  const symbols = (chart: Chart): string =>
    barsOf(chart)
      .map((bar) => bar.slots.map(({ chord }) => chord.symbol).join(' '))
      .join('|');
  return a !== null && symbols(a) === symbols(b);
}
