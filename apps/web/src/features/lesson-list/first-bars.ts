/** As many as one knows a tune by. */
export const BARS = 4;

/**
 * The first bars of a chart's text, to know a tune by in a list: the symbols of each as they are written. Quick, and also where
 * bars are faulty.
 * @example firstBars('title: A\nA:\n|: Fm7 | Bb7 :|') // → [['Fm7'], ['Bb7']]
 */
export function firstBars(chartText: string): readonly (readonly string[])[] {
  const music = chartText
    .split(/\r\n|\n|\r/u)
    .filter((line) => line.includes('|') && !/^\s*#/u.test(line))
    // a section's name before its bars, and signs of repeats and endings
    .map((line) => line.replace(/^[^|]*?:\s*(?=\|)/u, ''))
    .join('|');
  return music
    .split(/[|:[\]]+/u)
    .map((bar) => bar.trim().replace(/^\d\.\s*/u, ''))
    .filter((bar) => bar !== '')
    .slice(0, BARS)
    .map((bar) => bar.split(/\s+/u));
}
