import { computed } from 'nanostores';
import { LONGEST_FOLDER_NAME, type ShelfArrangement, type WriteOutcome } from '../../platform/storage/index.ts';
import { $settings } from '../settings/index.ts';
import { inFolder, movedBefore } from './arrange.ts';
import { $lessons, lessonStore, readAgain, type LessonSummary } from './shelf.ts';

export { LONGEST_FOLDER_NAME };

/** The lesson one goes on with: the one that was opened last, else the one changed last; null where there is none. */
export const $goOn = computed([$lessons, $settings], (lessons, { lastLesson }): LessonSummary | null => {
  if (lessons === null) return null;
  return lessons.find(({ id }) => id === lastLesson) ?? lessons[0] ?? null;
});

async function arrange(change: (now: ShelfArrangement) => ShelfArrangement): Promise<WriteOutcome> {
  const outcome = await (await lessonStore()).arrange(change);
  await readAgain();
  return outcome;
}

/** Chooses the order of the shelf. */
export function orderShelf(order: ShelfArrangement['order']): Promise<WriteOutcome> {
  return arrange((now) => ({ ...now, order }));
}

/** Puts a lesson before another by hand; from then on the shelf stands in the order by hand. @param shown see movedBefore */
export function moveLesson(shown: readonly string[], id: string, before: string | null): Promise<WriteOutcome> {
  return arrange((now) => movedBefore(now, shown, id, before));
}

/** Puts a lesson into a folder; an empty name takes it out. */
export function putInFolder(id: string, name: string): Promise<WriteOutcome> {
  const plain = [...name.replaceAll(/\s+/gu, ' ').trim()].slice(0, LONGEST_FOLDER_NAME).join('').trim();
  return arrange((now) => inFolder(now, id, plain));
}
