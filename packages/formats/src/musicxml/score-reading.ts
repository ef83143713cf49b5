import { MOST_CHART_BARS, type Result } from '@fivespan/core';
import { failure } from './failure.ts';
import { measureReading, type MeasureReading } from './measure-reading.ts';
import type { ReadPart, ReadScore } from './read-part.ts';
import { cleanName, type Node } from './xml-node.ts';
import { readElements, Unreadable } from './xml-reading.ts';

/** Elements outside the measures whose text is kept, and where it goes. */
function takeHead(
  path: readonly string[],
  text: string,
  score: ReadScore,
  names: Map<string, string>,
  id: string,
): void {
  const name = path.at(-1);
  // a movement's title is the piece's own; a work may be the collection it stands in
  if (name === 'movement-title') score.title = cleanName(text) || score.title;
  else if (name === 'work-title' && path.at(-2) === 'work' && score.title === '') score.title = cleanName(text);
  else if (name === 'part-name' && path.at(-2) === 'score-part') names.set(id, cleanName(text));
}

/**
 * Reads what a chart needs out of a partwise score: chords, keys, metres, form. Notes are counted and dropped, so that
 * a long score takes little room.
 */
export function readScore(xml: string): Result<ReadScore> {
  const score: ReadScore = { title: '', quartersAMinute: null, feel: null, parts: [] };
  const names = new Map<string, string>();
  const path: string[] = [];
  /** Elements of the measure that are still open. */
  const open: Node[] = [];
  let text = '';
  let scorePartId = '';
  let part: ReadPart | undefined;
  let divisions = 1;
  let reading: MeasureReading | undefined;
  const read = readElements(xml, {
    open: (name, attributes) => {
      if (path.length === 0 && name === 'score-timewise') throw new Unreadable(failure('musicxml.timewise'));
      if (path.length === 0 && name !== 'score-partwise') {
        throw new Unreadable(failure('musicxml.not-a-score', { root: cleanName(name) }));
      }
      path.push(name);
      text = '';
      if (reading !== undefined) {
        const node: Node = { name, attributes, children: [], text: '' };
        open.at(-1)?.children.push(node);
        open.push(node);
      } else if (name === 'part' && path.length === 2) {
        part = { id: attributes['id'] ?? '', name: '', transposeFifths: 0, measures: [] };
        score.parts.push(part);
        divisions = 1;
      } else if (name === 'measure' && part !== undefined) {
        if (part.measures.length >= MOST_CHART_BARS) {
          throw new Unreadable(failure('musicxml.too-long', { bars: MOST_CHART_BARS }));
        }
        reading = measureReading(score, part, attributes, divisions);
        part.measures.push(reading.measure);
      } else if (name === 'score-part') scorePartId = attributes['id'] ?? '';
    },
    text: (piece) => {
      const node = open.at(-1);
      if (node === undefined) text += piece;
      else node.text += piece;
    },
    close: (name) => {
      const node = open.pop();
      if (node !== undefined) {
        if (open.length === 0) reading?.take(node);
      } else if (name === 'measure' && reading !== undefined) {
        divisions = reading.divisions();
        reading = undefined;
      } else takeHead(path, text, score, names, scorePartId);
      path.pop();
    },
  });
  if (!read.ok) return read;
  for (const each of score.parts) each.name = names.get(each.id) ?? '';
  return { ok: true, value: score, warnings: [] };
}
