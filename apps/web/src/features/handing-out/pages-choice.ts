import type { Key } from '@fivespan/core';
import type { View } from '@fivespan/formats/handout';
import { atom } from 'nanostores';

/** Which pages of which lesson are looked at: kept while one goes to other screens and back. */
export interface PagesChoice {
  readonly lessonId: string;
  readonly view: View;
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
