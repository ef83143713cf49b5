import { readChordSymbol } from '../theory/index.ts';

/** A line of a chart's text by what it is. Offsets are indices into the line, from 0. */
export type ChartLine =
  | { readonly kind: 'nothing' } // empty, or a comment
  | { readonly kind: 'header'; readonly name: string; readonly value: string; readonly valueStart: number }
  | { readonly kind: 'stray'; readonly name: string; readonly start: number } // a heading nobody knows
  | { readonly kind: 'bare section'; readonly name: string; readonly start: number; readonly musicStart: number } // no bar line after the name
  | { readonly kind: 'section'; readonly name: string; readonly start: number; readonly musicStart: number }
  | { readonly kind: 'music'; readonly musicStart: number };

/** Names of header lines, in the order in which they are written. */
export const HEADER_NAMES = ['title', 'key', 'meter', 'tempo', 'feel', 'pickup'] as const;
export type HeaderName = (typeof HEADER_NAMES)[number];

export function isHeaderName(name: string): name is HeaderName {
  return HEADER_NAMES.some((each) => each === name);
}

/** A name directly before a colon, with no bar line before it. `Fm7 :|` is none: there the colon belongs to the bar line. */
const NAMED = /^(\s*)([^:|\s](?:[^:|]*[^:|\s])?):\s*/u;

/** Sections are called A, B, A2; a longer chord symbol right before `:|` ends a repeat: `Bb7:| Ebmaj7`. */
function isChordNotName(name: string): boolean {
  return !/^[A-Z]\d?$/u.test(name) && readChordSymbol(name).ok;
}

/**
 * Tells what a line is.
 * @example classifyLine('A: | Fm7 |') // → a section named A, its music from index 3
 */
export function classifyLine(line: string): ChartLine {
  if (/^\s*(?:#|$)/u.test(line)) return { kind: 'nothing' };
  const named = NAMED.exec(line);
  if (named === null) return { kind: 'music', musicStart: 0 };
  const [all, indent = '', name = ''] = named;
  const start = indent.length;
  const rest = line.slice(all.length).trimEnd();
  if (isHeaderName(name.toLowerCase())) {
    return { kind: 'header', name: name.toLowerCase(), value: rest, valueStart: rest === '' ? start : all.length };
  }
  if (line[named[0].trimEnd().length] === '|' && isChordNotName(name)) return { kind: 'music', musicStart: 0 };
  if (rest === '' || rest.startsWith('|')) return { kind: 'section', name, start, musicStart: all.length };
  if (rest.includes('|')) return { kind: 'bare section', name, start, musicStart: all.length };
  return { kind: 'stray', name, start };
}
