import type { Result } from '@fivespan/core';
import { failure } from './failure.ts';
import { partReading, type PartReading, type WrittenPart } from './part-reading.ts';
import type { PlacedNode } from './placed-node.ts';
import { cleanName } from './xml-node.ts';
import { readElements, Unreadable } from './xml-reading.ts';

/**
 * Reads every pitched, printed, sounding note of a partwise score with its places in the text. Cue notes, unpitched
 * notes, rests and hidden notes are left out; repeats are not played out.
 */
export function readWrittenNotes(xml: string): Result<readonly WrittenPart[]> {
  const parts: WrittenPart[] = [];
  const names = new Map<string, string>();
  const path: string[] = [];
  const open: PlacedNode[] = [];
  let reading: PartReading | undefined;
  let inMeasure = false;
  let scorePartId = '';
  let text = '';
  const read = readElements(xml, {
    open: (name, attributes, end) => {
      if (path.length === 0 && name === 'score-timewise') throw new Unreadable(failure('musicxml.timewise'));
      if (path.length === 0 && name !== 'score-partwise') {
        throw new Unreadable(failure('musicxml.not-a-score', { root: cleanName(name) }));
      }
      path.push(name);
      text = '';
      if (inMeasure) {
        const node: PlacedNode = { name, attributes, children: [], text: '', openEnd: end, end };
        open.at(-1)?.children.push(node);
        open.push(node);
      } else if (name === 'part' && path.length === 2) {
        reading = partReading(xml, attributes['id'] ?? '');
        parts.push(reading.part);
      } else if (name === 'measure' && reading !== undefined) {
        inMeasure = true;
        reading.openMeasure(attributes);
      } else if (name === 'score-part') scorePartId = attributes['id'] ?? '';
    },
    text: (piece) => {
      const node = open.at(-1);
      if (node === undefined) text += piece;
      else node.text += piece;
    },
    close: (name, end) => {
      const node = open.pop();
      if (node !== undefined) {
        node.end = end;
        if (open.length === 0) reading?.take(node);
      } else if (name === 'measure' && inMeasure) {
        inMeasure = false;
        reading?.closeMeasure();
      } else if (name === 'part' && path.length === 2) reading = undefined;
      else if (name === 'part-name' && path.at(-2) === 'score-part') names.set(scorePartId, cleanName(text));
      path.pop();
    },
  });
  if (!read.ok) return read;
  for (const part of parts) part.name = names.get(part.id) ?? '';
  return { ok: true, value: parts, warnings: [] };
}
