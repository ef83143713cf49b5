import type { Cue, Heading, Still } from '../../film/index.ts';
import type { Lesson } from '../lesson.ts';
import type { PlayedProgramme, ProgrammeEvent, ProgrammePlayer } from '../programme/index.ts';

/** What a film sounds like, as @fivespan/sound takes it. */
export type FilmSound = Pick<PlayedProgramme, 'players' | 'events' | 'endSeconds'>;

/** One scene made: what is seen, said and heard. Seconds count from its own beginning. */
export interface ScenePart {
  readonly stills: readonly Still[];
  readonly cues: readonly Cue[];
  readonly players: readonly ProgrammePlayer[];
  readonly events: readonly ProgrammeEvent[];
  readonly endSeconds: number;
}

/** What scenes are made of. */
export interface SceneSources {
  readonly lesson: Lesson;
  /** The lesson's place among the film's. */
  readonly lessonIndex: number;
  readonly heading: Heading;
}

/** Who plays what is shown of an idea: a piano alone. */
export const SHOWING_PIANO: ProgrammePlayer = {
  name: 'shown',
  plays: 'right hand',
  instrument: 'grand',
  pan: 0,
  level: 0.9,
};

/** Who plays a performance that is followed. */
export const PLAYED_PIANO: ProgrammePlayer = { ...SHOWING_PIANO, name: 'played' };

/** A note of what is shown. */
export function shownNote(startSeconds: number, durationSeconds: number, midi: number, velocity = 74): ProgrammeEvent {
  return { startSeconds, durationSeconds, midi, velocity, player: 0 };
}
