import { heardKey, judgeTake, type HeardNote, type JudgedTake } from '../take/index.ts';
import { pitchClass, pitchClassOf, modulo, usualKey, type Key } from '../theory/index.ts';
import type { Chart } from '../chart/index.ts';
import type { Choices, Lesson } from './lesson.ts';
import { makeLesson } from './make-lesson.ts';

/** What a take is set beside. */
interface AskedFor {
  readonly chart: Chart;
  readonly choices: Choices;
  /** The lesson as it was asked for, in its key. */
  readonly lesson: Lesson;
  readonly tempoBpm: number;
  /** False where there was no click: late and early are not reported. */
  readonly isToClick: boolean;
  /** Whether nobody has said at which level it was played, so that the one that explains it best is taken. */
  readonly anyLevel: boolean;
}

/** A take judged, by the lesson as it was played. */
export interface TakeAsPlayed {
  readonly judged: JudgedTake;
  /** In the key, and at the level, that was played. */
  readonly lesson: Lesson;
  /** The key it was played in, where that is not the one asked for. */
  readonly playedIn: Key | null;
}

const otherMoves = ({ bars }: JudgedTake): number =>
  bars.flatMap(({ slots }) => slots).filter(({ kind }) => kind !== 'family').length;

/**
 * Hears a take as what it is: in the key that was played, and, where no level was asked for, at the lowest one whose rows explain the
 * most. A chorus that goes outside as a lesson of level 2 does is no other move of a plain one.
 * @param notes in order of time, seconds from bar 1; each with its hand
 */
export function judgeAsPlayed(asked: AskedFor, notes: readonly HeardNote[]): TakeAsPlayed {
  const { chart, choices, tempoBpm, isToClick, anyLevel } = asked;
  const other = heardKey(asked.lesson, notes, tempoBpm);
  const { key } = asked.lesson.analysis;
  const tonic = pitchClass(modulo(pitchClassOf(key.tonic) + (other?.semitones ?? 0), 12));
  const playedIn = other === null ? null : usualKey(tonic, key.mode);
  let lesson = playedIn === null ? asked.lesson : makeLesson(chart, choices, playedIn);
  let judged = judgeTake(lesson, notes, tempoBpm, isToClick);
  if (anyLevel && otherMoves(judged) > 0) {
    for (const level of [1, 2, 3, 4] as const) {
      if (level <= choices.level) continue;
      const tried = makeLesson(chart, { ...choices, level }, playedIn ?? key);
      const heard = judgeTake(tried, notes, tempoBpm, isToClick);
      if (otherMoves(heard) < otherMoves(judged)) [lesson, judged] = [tried, heard];
    }
  }
  return { judged, lesson, playedIn };
}
