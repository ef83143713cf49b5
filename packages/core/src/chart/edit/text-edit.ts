import type { TextSpan } from './places.ts';

/** What takes a stretch's place. */
export interface TextEdit extends TextSpan {
  readonly words: string;
}

/**
 * The text with each stretch replaced, all else byte for byte as it was.
 * @param edits stretches that do not overlap
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = text;
  for (const { start, end, words } of edits.toSorted((a, b) => b.start - a.start || b.end - a.end)) {
    result = result.slice(0, start) + words + result.slice(end);
  }
  return result;
}

/** Puts words into a place between others: with a space on each side where something else stands there. */
export function putWords(text: string, span: TextSpan, words: string): TextEdit {
  const before = text.slice(0, span.start);
  const after = text.slice(span.end);
  return {
    ...span,
    words: `${/(?:^|\s)$/u.test(before.slice(-1)) ? '' : ' '}${words}${/^(?:$|\s)/u.test(after) ? '' : ' '}`,
  };
}

/** Takes words out, with the blanks after them, or before them where they end their line. */
export function takeWords(text: string, span: TextSpan): TextEdit {
  const blanksAfter = /^[^\S\n\r]*/u.exec(text.slice(span.end))?.[0].length ?? 0;
  const end = span.end + blanksAfter;
  const isLast = /^(?:$|[\n\r|:])/u.test(text.slice(end));
  if (!isLast || blanksAfter > 0) {
    const blanksBefore = isLast ? (/[^\S\n\r]*$/u.exec(text.slice(0, span.start))?.[0].length ?? 0) : 0;
    // one blank stays before a bar line
    return { start: span.start - blanksBefore, end, words: isLast && blanksBefore > 0 ? ' ' : '' };
  }
  const blanksBefore = /[^\S\n\r]*$/u.exec(text.slice(0, span.start))?.[0].length ?? 0;
  return { start: span.start - blanksBefore, end, words: '' };
}

/** How the text ends its lines. */
export function lineEndOf(text: string): string {
  return /\r\n|\n|\r/u.exec(text)?.[0] ?? '\n';
}

/** Takes out a whole line with its end. */
export function takeLine(text: string, line: TextSpan): TextEdit {
  const end = /^(?:\r\n|\n|\r)/u.exec(text.slice(line.end));
  if (end !== null) return { start: line.start, end: line.end + end[0].length, words: '' };
  const before = /(?:\r\n|\n|\r)$/u.exec(text.slice(0, line.start));
  return { start: line.start - (before?.[0].length ?? 0), end: line.end, words: '' };
}
