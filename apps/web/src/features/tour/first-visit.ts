import { $lessons } from '../lesson-list/index.ts';
import { goInstead, isBareAddress } from '../navigation/index.ts';
import { $settings } from '../settings/index.ts';

/**
 * On a first visit shows the demo lesson, ready to study and play, in place of a shelf with one thing on it. Called once, when
 * what is kept here has been read.
 */
export function welcome(): void {
  const [lesson, ...more] = $lessons.get() ?? [];
  if (lesson === undefined || more.length > 0 || $settings.get().tourSeen || !isBareAddress()) return;
  goInstead({ kind: 'lesson', id: lesson.id, screen: 'study' });
}
