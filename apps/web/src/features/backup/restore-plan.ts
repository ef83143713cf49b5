import { readLessonDocument, writeLessonDocument } from '@fivespan/core';
import type { ShelfChange, StoredLesson } from '../../platform/storage/index.ts';
// the file itself: the desk's index would bring the desk
import { titleApart, withTitle } from '../open-lesson/heading.ts';
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

/** How lessons are kept beside each other. */
export interface Beside {
  readonly freshId: () => string;
  /** The title of the one that comes, of the one there is. */
  readonly titleOf: (title: string) => string;
}

/** Nobody keeps more of one title beside each other. */
const MOST_OF_ONE_TITLE = 50;

function retitled(lesson: BackedUpLesson, title: string): BackedUpLesson {
  const document = readLessonDocument(lesson.document);
  if (!document.ok) return lesson;
  const chartText = withTitle(document.value.chartText, title);
  return { ...lesson, title, document: writeLessonDocument({ ...document.value, chartText }) };
}

/** A lesson under a title that no other has, and nothing else in it changed; undefined where it is here like that already. */
function apartFrom(
  others: readonly BackedUpLesson[],
  lesson: BackedUpLesson,
  titleOf: Beside['titleOf'],
): BackedUpLesson | undefined {
  const titles = new Set(others.map(({ title }) => title));
  const documents = new Set(others.map(({ document }) => document));
  let each = lesson;
  for (let count = 1; count < MOST_OF_ONE_TITLE && titles.has(each.title); count++) {
    each = retitled(each, titleApart(each.title, titleOf));
    if (documents.has(each.document)) return undefined;
  }
  return each;
}

/**
 * Merging: what is only in the file comes, what is only here stays, of what differs both are kept unless asked otherwise, under
 * titles that tell them apart.
 * @param here what is kept now
 */
export function mergePlan(
  { standings }: Comparison,
  ofDiffering: OfDiffering,
  here: readonly StoredLesson[],
  { freshId, titleOf }: Beside,
): ShelfChange {
  const put: StoredLesson[] = [];
  for (const each of standings) {
    if (each.kind === 'new') put.push({ ...each.lesson, revision: 1 });
    if (each.kind !== 'differs') continue;
    if (ofDiffering === 'take the file’s') put.push({ ...each.lesson, revision: each.here.revision + 1 });
    if (ofDiffering === 'keep both') {
      const apart = apartFrom([...here, ...put], each.lesson, titleOf);
      if (apart !== undefined) put.push({ ...apart, id: freshId(), revision: 1 });
    }
  }
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
