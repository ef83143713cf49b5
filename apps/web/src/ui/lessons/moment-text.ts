import { daysAgo } from '../../features/lesson-list/index.ts';
import { words } from '../words/index.ts';

const moments = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });
const days = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });

/** A moment as the user's system writes it. @param milliseconds since 1970 */
export function momentText(milliseconds: number): string {
  return moments.format(milliseconds);
}

/** A day as one speaks of it: today, yesterday, else its date. @param milliseconds since 1970 */
export function dayText(milliseconds: number): string {
  const ago = daysAgo(milliseconds);
  return ago === 0 ? words.lessons.today : ago === 1 ? words.lessons.yesterday : days.format(milliseconds);
}
