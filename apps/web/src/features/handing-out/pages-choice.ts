import { partFileName, PART_READERS, SHEET_FILE, type Key, type LessonFileName, type PartReader } from '@fivespan/core';
import type { View } from '@fivespan/formats/handout';
import { atom } from 'nanostores';

/** What can be looked at: a page of the lesson, or the part of a member of the band. */
export type Page = View | PartReader;

export function isPart(page: Page): page is PartReader {
  return PART_READERS.some((each) => each === page);
}

/** A page's file. */
export function fileOfPage(page: Page): LessonFileName {
  if (isPart(page)) return partFileName(page, 'pdf');
  return page === 'sheet' ? SHEET_FILE : `${page}.pdf`;
}

/** Which pages of which lesson are looked at: kept while one goes to other screens and back. */
export interface PagesChoice {
  readonly lessonId: string;
  readonly view: Page;
  /** Null for the tune's own. */
  readonly key: Key | null;
  /** How wide a page is shown, as a share of the room there is: 1 fills it. */
  readonly zoom: number;
}

export const $pagesChoice = atom<PagesChoice>({ lessonId: '', view: 'study', key: null, zoom: 1 });

/** Ways a page can be enlarged, in steps. */
export const ZOOMS: readonly number[] = [0.5, 0.75, 1, 1.5, 2, 3];

/** What is looked at of a lesson; another lesson begins with its study page in its own key. */
export function choiceFor(lessonId: string, choice: PagesChoice): PagesChoice {
  return choice.lessonId === lessonId ? choice : { ...choice, lessonId, view: 'study', key: null };
}

/** Looks at other pages. */
export function choosePages(lessonId: string, change: Partial<Omit<PagesChoice, 'lessonId'>>): void {
  $pagesChoice.set({ ...choiceFor(lessonId, $pagesChoice.get()), ...change });
}
