import { placesOf, readChordSymbol, setBarChords, type Issue } from '@fivespan/core';
import { $open } from '../open-lesson/index.ts';
import { changeText, chooseBar } from './editing.ts';
import { offsetOf } from './page-view.ts';

/** What would be right in a fault's place, where that is one thing to be written there: a chord, or a bar's chords; else null. */
export function suggestionOf({ code, args }: Issue): string | null {
  const words = code === 'chart.split' ? args.example : code.startsWith('chord.') ? args.nearest : undefined;
  if (typeof words !== 'string') return null;
  // some messages give examples instead
  return code === 'chart.split' || readChordSymbol(words).ok ? words : null;
}

/** The text with what would be right in a fault's place; as it was where the fault is not there any more. */
function withSuggestion(text: string, issue: Issue, words: string): string {
  const places = placesOf(text);
  const bar = places.bars.find(({ number }) => number === issue.place.bar);
  if (bar === undefined) return text;
  if (issue.code === 'chart.split') return setBarChords(text, places.bars.indexOf(bar), words);
  const offset = offsetOf(text, places.lineStarts, issue);
  const cell = bar.cells.find(({ start, end }) => offset >= start && offset < end);
  if (cell === undefined) return text;
  // chords of one beat are joined with &: the one the fault is in
  const at = offset - cell.start;
  const start = cell.text.lastIndexOf('&', at) + 1;
  const next = cell.text.indexOf('&', at);
  const end = next < 0 ? cell.text.length : next;
  if (cell.text.slice(start, end) !== issue.args.symbol) return text;
  return text.slice(0, cell.start + start) + words + text.slice(cell.start + end);
}

/** Writes what would be right in a fault's place. @returns whether it was written */
export function takeSuggestion(issue: Issue): boolean {
  const words = suggestionOf(issue);
  if (words === null || $open.get()?.issues.includes(issue) !== true) return false;
  const isWritten = changeText((text) => withSuggestion(text, issue, words));
  const bars = placesOf($open.get()?.chartText ?? '').bars;
  const index = bars.findIndex(({ number }) => number === issue.place.bar);
  if (index >= 0) chooseBar(index);
  return isWritten;
}
