/**
 * Tells whether an element is in sight or nearly.
 * @returns ends it
 */
export function watchNear(element: Element, tell: (isNear: boolean) => void): () => void {
  const observer = new IntersectionObserver((entries) => tell(entries.at(-1)?.isIntersecting === true), {
    rootMargin: '60% 0%',
  });
  observer.observe(element);
  return () => observer.disconnect();
}

/**
 * Tells how wide an element's content is in pixels of the screen, now and whenever it changes.
 * @returns ends it
 */
export function watchWidth(element: Element, tell: (widthPx: number) => void): () => void {
  const observer = new ResizeObserver((entries) => {
    const width = entries.at(-1)?.contentRect.width;
    if (width !== undefined) tell(Math.round(width * (globalThis.devicePixelRatio || 1)));
  });
  observer.observe(element);
  return () => observer.disconnect();
}
