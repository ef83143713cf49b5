import type { ShelfChange, StoredLesson } from '../../platform/storage/index.ts';
import type { BackedUpLesson } from './backup-document.ts';

/** How a lesson of a backup file stands to what is kept here. */
export type Standing =
  | { readonly kind: 'new'; readonly lesson: BackedUpLesson }
  | { readonly kind: 'same'; readonly lesson: BackedUpLesson }
  | { readonly kind: 'differs'; readonly lesson: BackedUpLesson; readonly here: StoredLesson };

/** A backup file held against what is kept here. */
export interface Comparison {
  readonly standings: readonly Standing[];
  /** What is kept here and not in the file. */
  readonly onlyHere: readonly StoredLesson[];
}

/** Holds a backup's lessons against those kept here: by id, and a lesson with the same content counts as the same. */
export function compare(lessons: readonly BackedUpLesson[], here: readonly StoredLesson[]): Comparison {
  const byId = new Map(here.map((each) => [each.id, each]));
  const documents = new Set(here.map((each) => each.document));
  const ids = new Set(lessons.map((each) => each.id));
  return {
    standings: lessons.map((lesson): Standing => {
      if (documents.has(lesson.document)) return { kind: 'same', lesson };
      const same = byId.get(lesson.id);
      return same === undefined ? { kind: 'new', lesson } : { kind: 'differs', lesson, here: same };
    }),
    onlyHere: here.filter((each) => !ids.has(each.id)),
  };
}

/** What becomes of lessons that differ when a backup is merged. */
export type OfDiffering = 'keep both' | 'take the file’s' | 'keep what is here';

/**
 * Merging: what is only in the file comes, what is only here stays, of what differs both are kept unless told otherwise.
 * @param freshId makes the id of the file's version where both are kept
 */
export function mergePlan({ standings }: Comparison, ofDiffering: OfDiffering, freshId: () => string): ShelfChange {
  const put = standings.flatMap((each): StoredLesson[] => {
    if (each.kind === 'same') return [];
    if (each.kind === 'new') return [{ ...each.lesson, revision: 1 }];
    if (ofDiffering === 'keep what is here') return [];
    if (ofDiffering === 'keep both') return [{ ...each.lesson, id: freshId(), revision: 1 }];
    return [{ ...each.lesson, revision: each.here.revision + 1 }];
  });
  return { put, remove: [] };
}

/** Replacing: afterwards exactly the file's lessons are kept here. */
export function replacePlan(lessons: readonly BackedUpLesson[], here: readonly StoredLesson[]): ShelfChange {
  const byId = new Map(here.map((each) => [each.id, each]));
  const ids = new Set(lessons.map((each) => each.id));
  return {
    put: lessons
      .filter((each) => byId.get(each.id)?.document !== each.document)
      .map((each) => ({ ...each, revision: (byId.get(each.id)?.revision ?? 0) + 1 })),
    remove: here.filter((each) => !ids.has(each.id)).map((each) => each.id),
  };
}
