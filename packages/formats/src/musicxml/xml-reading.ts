import type { Result } from '@fivespan/core';
import { SaxesParser } from 'saxes';
import { failure } from './failure.ts';

/** Elements deeper than this are no score. MusicXML goes about ten deep. */
const DEEPEST = 64;

/** Elements in all; a bar of a lead sheet has about a hundred. */
const MOST_ELEMENTS = 4_000_000;

/** How much text is read between two looks at whether reading should stop. */
const PIECE_CHARACTERS = 64 * 1024;

/** The events of an XML document, in order. `end` is the place in the text just after the tag. */
export interface ElementListener {
  open?(name: string, attributes: Readonly<Record<string, string>>, end: number): void;
  text?(text: string): void;
  close?(name: string, end: number): void;
}

/** Thrown by the listener's side to stop reading; carries what is wrong. */
export class Unreadable extends Error {
  readonly result: Result<never>;
  constructor(result: Result<never>) {
    super('unreadable');
    this.result = result;
  }
}

/**
 * Reads an XML document from beginning to end. Entities other than XML's own five and characters by number are an
 * error: nothing is expanded, nothing is fetched. A document that is not well formed is an error with line and column.
 */
export function readElements(xml: string, listener: ElementListener): Result<null> {
  const parser = new SaxesParser();
  let depth = 0;
  let count = 0;
  const refuse = (reason: string): never => {
    throw new Unreadable(failure('musicxml.not-xml', { reason }, { line: parser.line, column: parser.column + 1 }));
  };
  parser.on('error', (error) =>
    refuse(
      error.message
        .replace(/^\d+:\d+: /u, '')
        .replace(/\.$/u, '')
        .replace('undefined entity', 'an entity that XML does not know'),
    ),
  );
  parser.on('opentag', (tag) => {
    depth++;
    count++;
    if (depth > DEEPEST) refuse(`elements lie more than ${DEEPEST} deep`);
    if (count > MOST_ELEMENTS) refuse(`it has more than ${MOST_ELEMENTS} elements`);
    listener.open?.(tag.name, tag.attributes, parser.position);
  });
  parser.on('text', (text) => listener.text?.(text));
  parser.on('cdata', (text) => listener.text?.(text));
  parser.on('closetag', (tag) => {
    depth--;
    listener.close?.(tag.name, parser.position);
  });
  try {
    for (let at = 0; at < xml.length; at += PIECE_CHARACTERS) parser.write(xml.slice(at, at + PIECE_CHARACTERS));
    parser.close();
  } catch (error) {
    if (error instanceof Unreadable) return error.result;
    throw error;
  }
  return { ok: true, value: null, warnings: [] };
}
