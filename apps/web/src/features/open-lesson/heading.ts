import { cutText, parseKey, type Key } from '@fivespan/core';

/** What a chart's text says of itself, whether or not the rest of it can be read. */
export interface TextHeading {
  readonly title: string;
  readonly key: Key | null;
  readonly tempoBpm: number | null;
}

/** A header line: its name directly before a colon (core: chart-line.ts). Signs at its ends are no part of the value. */
const HEADER = /^(\uFEFF?[^\S\n\r]*)(title|key|tempo):([^\n\r]*)/gimu;

/** The longest title a chart may have (core: chart-heading.ts). */
const LONGEST_TITLE = 200;

/**
 * The title, key and tempo out of a chart's text, for lists: quick, and also where bars are faulty.
 * @example headingOf('title: Lantern Street\nkey: Eb major').title // → 'Lantern Street'
 */
export function headingOf(chartText: string): TextHeading {
  const values = new Map<string, string>();
  for (const [, , name = '', value = ''] of chartText.matchAll(HEADER)) {
    if (!values.has(name.toLowerCase())) values.set(name.toLowerCase(), value.trim());
  }
  const tempoBpm = Number(/^(\d{2,3})(?:\s*bpm)?$/u.exec(values.get('tempo') ?? '')?.[1] ?? Number.NaN);
  return {
    title: cutText(values.get('title') ?? '', LONGEST_TITLE),
    key: parseKey(values.get('key') ?? '') ?? null,
    tempoBpm: Number.isNaN(tempoBpm) ? null : tempoBpm,
  };
}

/** A title on one line, no longer than a chart's may be. */
export function titleOnOneLine(title: string): string {
  return [...title.replaceAll(/\s+/gu, ' ').trim()].slice(0, LONGEST_TITLE / 2).join('');
}

/**
 * A title made of another, to tell two lessons apart. Where it would be longer than a title may be, the other gives way.
 * @example titleApart('Lantern Street', (title) => `${title} (second)`) // → 'Lantern Street (second)'
 */
export function titleApart(title: string, titleOf: (title: string) => string): string {
  const plain = titleOnOneLine(title);
  const signs = [...plain];
  const excess = [...titleOf(plain)].length - LONGEST_TITLE / 2;
  return titleOnOneLine(titleOf(excess > 0 ? signs.slice(0, -excess).join('').trimEnd() : plain));
}

/**
 * A chart's text with another title: its `title:` line changes, or is put first where there is none; the rest stays byte for byte.
 * @example withTitle('title: A\n| Fm7 |', 'B') // → 'title: B\n| Fm7 |'
 */
export function withTitle(chartText: string, title: string): string {
  const plain = titleOnOneLine(title);
  let isDone = false;
  const changed = chartText.replaceAll(HEADER, (line: string, indent: string, name: string, value: string) => {
    if (isDone || name.toLowerCase() !== 'title') return line;
    isDone = true;
    const [before = ''] = /^[^\S\n\r]*/u.exec(value) ?? [];
    return `${indent}${name}:${value.trim() === '' ? ' ' : before}${plain}`;
  });
  if (isDone) return changed;
  const lineEnd = /\r\n|\n|\r/u.exec(chartText)?.[0] ?? '\n';
  const [mark = ''] = /^\uFEFF?/u.exec(chartText) ?? [];
  return `${mark}title: ${plain}${lineEnd}${chartText.slice(mark.length)}`;
}
