import type { Chart, Choices, FilmTake, FrameRate, Key, LeftOutVoice } from '@fivespan/core';
import type { FilmHeight, FilmLook } from '@fivespan/formats/film';

/** What the page is asked for: plain data (apps/web/src/features/film/film-order.ts). */
export interface FilmOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key | null;
  readonly bars: { readonly from: number; readonly to: number } | null;
  readonly playOnly: boolean;
  /** A performance to follow; null for the lesson's own scenes. */
  readonly take: FilmTake | null;
  readonly look: FilmLook;
  readonly height: FilmHeight;
  readonly fps: FrameRate;
  readonly format: 'mp4' | 'webm' | 'png';
  readonly isHashed: boolean;
}

/** What the page answers when the film is made. */
export interface MadeFilm {
  readonly frames: number;
  readonly seconds: number;
  readonly width: number;
  readonly height: number;
  readonly pictures: number;
  readonly codecs: { readonly video: string; readonly audio: string | null } | null;
  readonly captionsVtt: string;
  readonly captionsSrt: string;
  readonly description: string;
  readonly cueSheet: string;
  readonly leftOut: readonly LeftOutVoice[];
  readonly hash: string | null;
}

/** What is being done, for who waits. */
export type FilmStage = 'composing' | 'measuring' | 'filming';
