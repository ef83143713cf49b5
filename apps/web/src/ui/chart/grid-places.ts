/** Where bars are on the screen, whatever its width. */

/** The number of the bar an element is of. */
export function barOf(target: EventTarget): number | null {
  const cell = (target as Element).closest('[data-bar]');
  return cell === null ? null : Number((cell as HTMLElement).dataset['bar']);
}

/** The bar above or below another on the screen, whatever the width; null where there is none. */
export function barBeside(grid: HTMLElement, index: number, isDown: boolean): number | null {
  const cells = [...grid.querySelectorAll<HTMLElement>('[data-bar]')];
  const here = cells.find((cell) => cell.dataset['bar'] === String(index))?.getBoundingClientRect();
  if (here === undefined) return null;
  let best: { readonly index: number; readonly far: number } | null = null;
  for (const cell of cells) {
    const there = cell.getBoundingClientRect();
    const down = isDown ? there.top - here.bottom : here.top - there.bottom;
    if (down < -2) continue;
    const far = down * 10 + Math.abs(there.left - here.left);
    if (best === null || far < best.far) best = { index: Number(cell.dataset['bar']), far };
  }
  return best === null ? null : best.index;
}

/** The first or last bar of a bar's line as it is on the screen: a section's last line is short, a narrow screen has two in each. */
export function edgeOfLine(grid: HTMLElement | null, index: number, edge: 'first' | 'last'): number {
  const cells = [...(grid?.querySelectorAll<HTMLElement>('[data-bar]') ?? [])];
  const here = cells.find((cell) => cell.dataset['bar'] === String(index))?.getBoundingClientRect().top;
  if (here === undefined) return index;
  const line = cells.filter((cell) => Math.abs(cell.getBoundingClientRect().top - here) < 2);
  return Number(line.at(edge === 'first' ? 0 : -1)?.dataset['bar'] ?? index);
}
