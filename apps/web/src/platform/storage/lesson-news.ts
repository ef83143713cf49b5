import * as v from 'valibot';

const NEWS = v.variant('kind', [
  v.object({ kind: v.literal('written'), id: v.string(), revision: v.number() }),
  v.object({ kind: v.literal('removed'), id: v.string() }),
  /** Many lessons were changed at once, or the page was asleep and heard nothing: look again. */
  v.object({ kind: v.literal('look again') }),
]);

/** What one tab tells the others of the lessons. */
export type LessonNews = v.InferOutput<typeof NEWS>;

/** A channel between the tabs of this browser. */
export interface NewsChannel {
  readonly tell: (news: LessonNews) => void;
  /** @returns ends it */
  readonly hear: (listener: (news: LessonNews) => void) => () => void;
}

/** Tabs that have the database of this name open hear each other; not themselves. */
export function openNewsChannel(name: string): NewsChannel {
  // absent in some private windows: one tab then learns of another's change when it writes
  const channel = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel(name);
  const listeners = new Set<(news: LessonNews) => void>();
  const pass = (news: LessonNews): void => {
    for (const listener of listeners) listener(news);
  };
  channel?.addEventListener('message', ({ data }) => {
    const read = v.safeParse(NEWS, data);
    if (read.success) pass(read.output);
  });
  // Node, where tests run, would be kept alive by it
  (channel as { unref?: () => void } | undefined)?.unref?.();
  if (typeof document !== 'undefined') {
    // a page that slept has heard nothing
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') pass({ kind: 'look again' });
    });
  }
  return {
    tell: (news) => channel?.postMessage(news),
    hear: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
