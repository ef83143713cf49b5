import type { LessonSummary } from '../../features/lesson-list/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';

/** A function that says key and tempo of a lesson, as far as its chart states them. */
export function useAboutText(): (lesson: LessonSummary) => string {
  const keyText = useKeyText();
  return ({ key, tempoBpm }) =>
    [key === null ? '' : keyText(key), tempoBpm === null ? '' : words.lessons.tempo(tempoBpm)]
      .filter((part) => part !== '')
      .join(' · ');
}
