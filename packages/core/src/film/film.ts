import type { Key } from '../theory/index.ts';
import type { Picture } from './picture.ts';
import type { Cue } from './said.ts';
import type { SceneKind } from './scene.ts';

/** What is seen from a time on, until the next still. */
export interface Still {
  readonly startSeconds: number;
  readonly picture: Picture;
}

/** A scene in the film. Scenes follow each other without gaps. */
export interface TimedScene {
  readonly kind: SceneKind;
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly key: Key;
  readonly isDemonstrated: boolean;
}

/** A film without its sound: what is seen and said, and when. Stills, cues and scenes ascend; the first still is at 0. */
export interface FilmTimeline {
  readonly title: string;
  readonly stills: readonly Still[];
  readonly cues: readonly Cue[];
  readonly scenes: readonly TimedScene[];
  readonly endSeconds: number;
}

/** Frames a second that films have. */
export const FRAME_RATES = [24, 25, 30, 60] as const;
export type FrameRate = (typeof FRAME_RATES)[number];

/** How many frames a film has: its last one is over when the film is. */
export function frameCount({ endSeconds }: Pick<FilmTimeline, 'endSeconds'>, fps: FrameRate): number {
  return Math.ceil(endSeconds * fps - 1e-6);
}

/** The frame with which something that begins at a time is first seen: the nearest one. */
export function frameAt(seconds: number, fps: FrameRate): number {
  return Math.round(seconds * fps);
}

/** A picture and the frames that show it, `to` exclusive. */
export interface Run {
  readonly from: number;
  readonly to: number;
  readonly picture: Picture;
}

/**
 * The film as runs of frames that look the same: every frame from 0 to its end once, in order. Stills too short for a frame are left
 * out.
 */
export function runsOf(film: Pick<FilmTimeline, 'stills' | 'endSeconds'>, fps: FrameRate): Run[] {
  const total = frameCount(film, fps);
  const starts = film.stills.map(({ startSeconds }) => Math.min(total, frameAt(startSeconds, fps)));
  return film.stills.flatMap(({ picture }, index) => {
    const from = index === 0 ? 0 : (starts[index] as number);
    const to = starts[index + 1] ?? total;
    return to > from ? [{ from, to, picture }] : [];
  });
}

/**
 * What a frame shows. Pure: the same film, frame and rate give the same picture.
 * @param frame from 0
 * @throws RangeError where the film has no such frame
 */
export function pictureAt(film: Pick<FilmTimeline, 'stills' | 'endSeconds'>, frame: number, fps: FrameRate): Picture {
  const run = runsOf(film, fps).find(({ from, to }) => frame >= from && frame < to);
  if (run === undefined) throw new RangeError(`frame must be one of the film's ${frameCount(film, fps)}, not ${frame}`);
  return run.picture;
}

/** The picture that stands for a film: music with a hand on it where there is some, else how it begins. */
export function thumbnailOf({ stills }: Pick<FilmTimeline, 'stills'>): Picture {
  const played = stills.find(
    ({ picture: { bar, keyboard, now } }) => bar !== null && keyboard?.hand != null && now?.beat === 1,
  );
  const shown = stills.find(({ picture: { keyboard } }) => keyboard?.hand != null);
  const found = (played ?? shown ?? stills[0])?.picture;
  if (found === undefined) throw new RangeError('film must have a still');
  return found;
}
