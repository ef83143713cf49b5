import type { ShelfArrangement } from '../../platform/storage/index.ts';
import type { LessonSummary } from './shelf.ts';

/** What an order needs of a lesson. */
type Arranged = Pick<LessonSummary, 'id' | 'title'>;

const byTitle = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });

/**
 * Lessons in the order chosen. In the order by hand, those that were never put anywhere come first: they are new.
 * @param lessons the last changed first
 */
export function arranged<Lesson extends Arranged>(
  lessons: readonly Lesson[],
  { order, byHand }: ShelfArrangement,
): readonly Lesson[] {
  if (order === 'changed') return lessons;
  if (order === 'title') return [...lessons].sort((a, b) => byTitle.compare(a.title, b.title));
  const placeOf = new Map(byHand.map((id, index) => [id, index]));
  // a sort keeps the order of equals
  return [...lessons].sort((a, b) => (placeOf.get(a.id) ?? -1) - (placeOf.get(b.id) ?? -1));
}

/** The folders there are, by name. */
export function foldersOf(lessons: readonly Arranged[], { folders }: ShelfArrangement): readonly string[] {
  const names = new Set(lessons.flatMap(({ id }) => folders[id] ?? []));
  return [...names].sort((a, b) => byTitle.compare(a, b));
}

/**
 * Puts a lesson before another in the order by hand, which begins as what is shown.
 * @param shown ids in the order in which they are shown
 * @param before the id that it comes before; null for the end
 */
export function movedBefore(
  now: ShelfArrangement,
  shown: readonly string[],
  id: string,
  before: string | null,
): ShelfArrangement {
  const rest = shown.filter((each) => each !== id);
  const place = before === null ? rest.length : rest.indexOf(before);
  const ids = place < 0 ? [...rest, id] : rest.toSpliced(place, 0, id);
  // what is not shown (another folder, removed and to be put back) keeps its place behind what it stood behind
  const inShown = new Set(ids);
  const others = now.byHand.filter((each) => !inShown.has(each));
  return { ...now, order: 'hand', byHand: [...ids, ...others] };
}

/** Puts a lesson into a folder; an empty name takes it out. */
export function inFolder(now: ShelfArrangement, id: string, name: string): ShelfArrangement {
  const { [id]: _before, ...others } = now.folders;
  return { ...now, folders: name === '' ? others : { ...others, [id]: name } };
}

/** A copy stands behind what it was made of, in its folder. */
export function withCopy(now: ShelfArrangement, id: string, copy: string): ShelfArrangement {
  const place = now.byHand.indexOf(id);
  const folder = now.folders[id];
  return {
    ...now,
    byHand: place < 0 ? now.byHand : now.byHand.toSpliced(place + 1, 0, copy),
    folders: folder === undefined ? now.folders : { ...now.folders, [copy]: folder },
  };
}

/** A backup's arrangement added to what is here: what is arranged here stays so. */
export function joined(here: ShelfArrangement, file: ShelfArrangement): ShelfArrangement {
  const known = new Set(here.byHand);
  return {
    order: here.order,
    byHand: [...here.byHand, ...file.byHand.filter((id) => !known.has(id))],
    folders: { ...file.folders, ...here.folders },
  };
}
