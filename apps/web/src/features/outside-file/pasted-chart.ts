import { readChordSymbol } from '@fivespan/core';

/** A section's name in brackets, alone in its line or before its music. */
const BRACKETED = /^(\s*)\[\s*([^\]|[]{1,40}?)\s*\]:?(?=\s*(?:$|\|))/u;

/** A count behind the last bar line of a line that has no repeat signs: everything in it is played so often. */
const COUNTED = /^([^\S\n]*(?:[^|:]*:)?\s*)\|?([^:]*?)\|?\s*\(?(?:[x×](\d{1,2})|(\d{1,2})[x×])\)?\s*$/u;

/** A line that is not yet the chart: empty, or a comment. */
const IS_NOTHING = /^\s*(?:#|$)/u;

function isTitle(line: string): boolean {
  if (/[|:%[\]]/u.test(line)) return false;
  const words = line.trim().split(/\s+/u);
  return !words.some((word) => word === '/' || /^N\.?C\.?$/u.test(word) || readChordSymbol(word).ok);
}

function withoutBrackets(line: string): string {
  return line.replace(BRACKETED, (_all, indent: string, name: string) => `${indent}${name}:`);
}

function withRepeat(line: string): string {
  const counted = COUNTED.exec(line);
  if (counted === null || !line.includes('|')) return line;
  const [, before = '', bars = '', after, ahead] = counted;
  return `${before}|:${bars.trimEnd() === bars ? `${bars} ` : bars}:|x${after ?? ahead}`;
}

/**
 * A chart as people send it, as chart text: a first line that is no chord is its title, `[A]` begins a section, `x2` behind a line
 * repeats it. A text that is chart text already stays as it is, byte for byte.
 * @example asChartText('Pale Lantern\n[A]\n| Fm7 | Bb7 | x2') // → 'title: Pale Lantern\nA:\n|: Fm7 | Bb7 :|x2'
 */
export function asChartText(text: string): string {
  const parts = text.split(/(\r\n|\n|\r)/u);
  const first = parts.findIndex((line, at) => at % 2 === 0 && !IS_NOTHING.test(line.replace(/^\uFEFF/u, '')));
  const hasTitle = /^\s*title:/imu.test(text);
  return parts
    .map((line, at) => {
      if (at % 2 === 1) return line;
      // one line alone is what is being typed, not yet the title of anything
      if (at === first && !hasTitle && parts.length > 1 && text.includes('|') && isTitle(line)) {
        return line.replace(/^(\uFEFF?)\s*/u, '$1title: ').trimEnd();
      }
      return withRepeat(withoutBrackets(line));
    })
    .join('');
}
