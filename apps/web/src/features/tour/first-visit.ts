import { $lessons } from '../lesson-list/index.ts';
import { arriveAt, isBareAddress } from '../navigation/index.ts';
import { $settings } from '../settings/index.ts';
import { startTour } from './tour.ts';

/**
 * Where there is one lesson and nobody asked for a place, shows it, ready to study and play, instead of a shelf with one thing on
 * it: on a first visit that is the demo. Who has not been shown round yet is. Called once, when what is kept here has been read.
 */
export function welcome(): void {
  const [lesson, ...more] = $lessons.get() ?? [];
  if (lesson === undefined || more.length > 0 || !isBareAddress()) return;
  arriveAt({ kind: 'lesson', id: lesson.id, screen: 'study' });
  if (!$settings.get().tourSeen) startTour();
}
