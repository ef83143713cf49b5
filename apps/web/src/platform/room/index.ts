/** How much room a part of the page has. */

/** Size of an element's content, in pixels of the page; its width also in letters' heights of its text (em). */
export interface Room {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly widthEm: number;
}

/**
 * Tells how much room an element has, now and whenever it changes.
 * @returns ends it
 */
export function watchRoom(element: Element, tell: (room: Room) => void): () => void {
  const observer = new ResizeObserver((entries) => {
    const content = entries.at(-1)?.contentRect;
    if (content === undefined) return;
    const { width: widthPx, height: heightPx } = content;
    const emPx = Number.parseFloat(getComputedStyle(element).fontSize) || 16;
    tell({ widthPx, heightPx, widthEm: widthPx / emPx });
  });
  observer.observe(element);
  return () => observer.disconnect();
}
