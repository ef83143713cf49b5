const LAST_OF_FIRST_PLANE = 0xffff;

/**
 * Columns of a line, from 1, for places in it. They count characters, not the units of UTF-16: a sign such as 𝄋 is one.
 * @example columnsOf('𝄋 Fm7')(3) // → 3
 */
export function columnsOf(line: string): (start: number) => number {
  if (!/[\u{10000}-\u{10FFFF}]/u.test(line)) return (start) => start + 1;
  const columns = new Uint32Array(line.length + 1);
  let column = 0;
  let isSecondHalf = false;
  for (let index = 0; index <= line.length; index++) {
    if (!isSecondHalf) column++;
    columns[index] = column;
    isSecondHalf = !isSecondHalf && (line.codePointAt(index) ?? 0) > LAST_OF_FIRST_PLANE;
  }
  return (start) => columns[Math.min(start, line.length)] as number;
}
