/** What draws frames: this window, or another that is drawn from here. */
type FrameSource = Pick<Window, 'requestAnimationFrame' | 'cancelAnimationFrame'>;

const sources = new Set<FrameSource>();
const followed = new Set<(source: FrameSource) => void>();

/** Goes by another window's frames too: one that is hidden draws none, and what is seen in the other would stand still. */
export function alsoFramesOf(source: FrameSource): () => void {
  sources.add(source);
  for (const follow of followed) follow(source);
  return () => void sources.delete(source);
}

/** Calls before every frame that is drawn, until the returned function is called. */
export function everyFrame(call: () => void): () => void {
  const asked = new Map<FrameSource, number>();
  const follow = (source: FrameSource): void => {
    const frame = (): void => {
      if (source !== globalThis && !sources.has(source)) return;
      asked.set(source, source.requestAnimationFrame(frame));
      call();
    };
    asked.set(source, source.requestAnimationFrame(frame));
  };
  for (const source of [globalThis as FrameSource, ...sources]) follow(source);
  followed.add(follow);
  return () => {
    followed.delete(follow);
    for (const [source, number] of asked) source.cancelAnimationFrame(number);
  };
}
