import type { TextSpan } from './places.ts';

/** A bar line's signs. */
export interface BarLine {
  /** `:|` */
  readonly closes: boolean;
  /** A count after it: 3 in `:|x3`. */
  readonly times: number | null;
  /** `||` */
  readonly isDouble: boolean;
  /** `|:` */
  readonly opens: boolean;
}

export const PLAIN_LINE: BarLine = { closes: false, times: null, isDouble: false, opens: false };

/** Reads a bar line as the chart's reader found it. */
export function barLineAt(text: string, span: TextSpan | null): BarLine {
  const match = span === null ? null : /^(:?)\|(\|?)\]?(:?)\D*(\d*)/u.exec(text.slice(span.start, span.end));
  if (match === null) return PLAIN_LINE;
  return {
    closes: match[1] !== '',
    isDouble: match[2] !== '',
    opens: match[3] !== '',
    times: match[4] === '' ? null : Number(match[4]),
  };
}

export function isPlainLine({ closes, isDouble, opens }: BarLine): boolean {
  return !closes && !isDouble && !opens;
}

/** A bar line as it is written. */
export function formatBarLine({ closes, times, isDouble, opens }: BarLine): string {
  const line = `${closes ? ':' : ''}|${isDouble ? '|' : ''}`;
  if (!closes || times === null || times === 2) return `${line}${opens ? ':' : ''}`;
  return `${line}x${times}${opens ? ' |:' : ''}`;
}

/** The bar line that is left of two when the bar between them goes: a repeat of that bar alone goes with it. */
export function mergeBarLines(before: BarLine, after: BarLine): BarLine {
  const wasAlone = before.opens && after.closes;
  return {
    closes: before.closes || (after.closes && !wasAlone),
    times: before.closes ? before.times : after.times,
    isDouble: before.isDouble || after.isDouble,
    opens: after.opens || (before.opens && !wasAlone),
  };
}
