import { voicingsOf, type Voicing } from '../parts/index.ts';
import type { Lesson } from './lesson.ts';

/**
 * The voicings of a lesson's slots as the hands hold them, undefined where nobody plays a chord.
 * @example voicingsOfLesson(lesson)[0]?.keys
 */
export function voicingsOfLesson({ analysis, plan, choices }: Lesson): readonly (Voicing | undefined)[] {
  return voicingsOf({ analysis, plan, kind: choices.voicings, pins: choices.pins.parts.voicings });
}
