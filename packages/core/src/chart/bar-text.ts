/** A word of a bar: a chord, a beat, a sign, a direction. */
export interface Cell {
  readonly text: string;
  /** Index in the line. */
  readonly start: number;
}

/** A stretch of a line: its first index, and the one after its last. */
export interface LineSpan {
  readonly start: number;
  readonly end: number;
}

/** What stands between two bar lines, and what the lines round it say. */
export interface BarText {
  readonly cells: readonly Cell[];
  /** Index in the line where the bar's first cell, or the bar line before it, stands. */
  readonly start: number;
  readonly opensRepeat: boolean;
  /** The bar lines round it with their signs and counts (`|:`, `:|x3`); null where the line's edge is one. */
  readonly lineBefore: LineSpan | null;
  readonly lineAfter: LineSpan | null;
}

/** What a line of music holds, in order. */
export type MusicItem =
  | { readonly kind: 'bar'; readonly bar: BarText }
  | { readonly kind: 'empty bar'; readonly bar: BarText }
  | { readonly kind: 'repeat end'; readonly times: number | null; readonly start: number }
  | { readonly kind: 'double bar' };

const BAR_LINE = /(:?)\|(\|?)\]?(:?)/uy;
const TIMES = /\s*(?:[x×](\d{1,3})|(\d{1,3})[x×])(?![^\s|])/uy;
/** A word; spaces inside parentheses belong to it, as in C7(b9, b13). */
const CELL = /(?:\([^()|]*\)|[^\s|:]|:(?!\|))+/uy;
const SPACE = /\s+/uy;

const matchAt = (pattern: RegExp, text: string, at: number): RegExpExecArray | null => {
  pattern.lastIndex = at;
  return pattern.exec(text);
};

/**
 * Cuts a line of music into bars. The end of a line ends a bar; a line may begin and end without a bar line.
 * @param opensRepeat whether a `|:` at the end of the line before waits for its bar
 * @returns the items, whether a `|:` at the end of this line waits for the next one's first bar, and where the last `|:` is
 */
export function barTextsOf(
  line: string,
  musicStart: number,
  opensRepeat: boolean,
): { readonly items: MusicItem[]; readonly opensRepeat: boolean; readonly openedAt: number | null } {
  const items: MusicItem[] = [];
  let cells: Cell[] = [];
  let isOpening = opensRepeat;
  let openedAt: number | null = null;
  let lineBefore: LineSpan | null = null;
  /** Whether a plain single bar line stands before: two of them with nothing between are an empty bar. */
  let isAfterPlainLine = false;
  let at = musicStart;
  const endBar = (lineAfter: LineSpan | null): void => {
    const [first] = cells;
    if (first === undefined) return;
    const bar = { cells, start: first.start, opensRepeat: isOpening, lineBefore, lineAfter };
    items.push({ kind: 'bar', bar });
    cells = [];
    isOpening = false;
  };
  while (at < line.length) {
    const space = matchAt(SPACE, line, at);
    if (space !== null) {
      at += space[0].length;
      continue;
    }
    const barLine = matchAt(BAR_LINE, line, at);
    if (barLine === null) {
      // a colon that belongs to nothing is a word of its own, so that nothing is lost
      const text = matchAt(CELL, line, at)?.[0] ?? line.charAt(at);
      const last = cells.at(-1);
      if (text.startsWith('(') && last !== undefined && /^[A-G]/u.test(last.text)) {
        // what stands in parentheses after a space still belongs to its chord: C7 (b9)
        cells[cells.length - 1] = { text: line.slice(last.start, at + text.length), start: last.start };
      } else {
        cells.push({ text, start: at });
      }
      at += text.length;
      continue;
    }
    const [text, closes = '', second = '', opens = ''] = barLine;
    const isPlain = closes === '' && second === '' && opens === '';
    const count = closes !== '' && opens === '' ? matchAt(TIMES, line, at + text.length) : null;
    const lineAfter: LineSpan = { start: at, end: at + text.length + (count?.[0].length ?? 0) };
    if (cells.length === 0 && isAfterPlainLine && isPlain) {
      const start = lineBefore?.start ?? musicStart;
      items.push({ kind: 'empty bar', bar: { cells: [], start, opensRepeat: false, lineBefore, lineAfter } });
    }
    endBar(lineAfter);
    if (closes !== '') {
      const times = count === null ? null : Number(count[1] ?? count[2]);
      items.push({ kind: 'repeat end', times, start: at });
    } else if (second !== '' && opens === '') {
      items.push({ kind: 'double bar' });
    }
    if (opens !== '') {
      isOpening = true;
      openedAt = at;
    }
    isAfterPlainLine = isPlain;
    lineBefore = lineAfter;
    at = lineAfter.end;
  }
  endBar(null);
  return { items, opensRepeat: isOpening, openedAt };
}
