import { UNWATCHED, type Progress } from '../../progress.ts';
import { formatKey } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';
import { playLessons } from '../programme/play-programme.ts';
import type { PlayedProgramme } from '../programme/played-programme.ts';
import type { Programme } from '../programme/programme.ts';
import type { Drill } from './drill.ts';

/**
 * Plays a drill by a programme of its keys.
 * @throws RangeError where the programme has a key that the drill was not made in
 * For example playDrill(drill, programmeOfDrill(drill, ['right hand', 'bass', 'drums']))
 */
export function playDrill(drill: Drill, programme: Programme): PlayedProgramme;
export function playDrill(drill: Drill, programme: Programme, progress: Progress): PlayedProgramme | undefined;
export function playDrill(drill: Drill, programme: Programme, progress: Progress = UNWATCHED) {
  const lessonIn = (name: string): Lesson => {
    const found = drill.keys.find(({ key }) => formatKey(key) === name);
    if (found === undefined) throw new RangeError(`programme must keep to the drill's keys: ${name} is none of them`);
    return found.lesson;
  };
  const seed = drill.keys[0]?.lesson.choices.seed ?? 0;
  return playLessons((key) => lessonIn(formatKey(key)), seed, programme, progress);
}
