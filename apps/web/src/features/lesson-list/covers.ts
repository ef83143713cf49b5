import { watchNear } from '../../platform/pdf-view/watch-element.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { Cover } from './cover-job.ts';

export { watchNear, type Cover };

/** What is kept of covers: a lesson that did not change is not computed again while the page is open. */
const known = new Map<string, Promise<Cover | null>>();
const MOST_KNOWN = 500;

/** A lesson's cover, computed where nothing else waits; null where it has none. @param document the lesson file's text */
export function coverFor(document: string): Promise<Cover | null> {
  const before = known.get(document);
  if (before !== undefined) return before;
  // the shelf never stops for a picture
  const cover = runJob<string, Cover | null>('cover', document, { urgency: 'soon' }).catch(() => null);
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(document, cover);
  return cover;
}
