/** How much room a part of the page has. */

/** Width of an element's content, in pixels of the page and in letters' heights of its text (em). */
export interface Room {
  readonly widthPx: number;
  readonly widthEm: number;
}

/**
 * Tells how much room an element has, now and whenever it changes.
 * @returns ends it
 */
export function watchRoom(element: Element, tell: (room: Room) => void): () => void {
  const observer = new ResizeObserver((entries) => {
    const widthPx = entries.at(-1)?.contentRect.width;
    if (widthPx === undefined) return;
    const emPx = Number.parseFloat(getComputedStyle(element).fontSize) || 16;
    tell({ widthPx, widthEm: widthPx / emPx });
  });
  observer.observe(element);
  return () => observer.disconnect();
}
