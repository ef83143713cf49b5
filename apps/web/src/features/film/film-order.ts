import type { Chart, Choices, FilmTake, FrameRate, Key, LeftOutVoice, SceneKind } from '@fivespan/core';
import type { Engraver } from '@fivespan/formats/engraving';
import type { FilmHeight, FilmLook } from '@fivespan/formats/film';
import type { FilmCodecs, FilmFormat, SinkPlace, VoiceFault } from '../../platform/video/index.ts';

/** A recording that a film may have: where its bytes are, null for this browser's own store. */
export interface VoicePlace {
  readonly hash: string;
  readonly url: string | null;
}

/** What a film is made of. */
export interface FilmSource {
  readonly chart: Chart;
  readonly choices: Choices;
  /** Null for the key the lesson is shown in. */
  readonly key: Key | null;
  /** Only these bars of what is played, as they are counted on paper. */
  readonly bars: { readonly from: number; readonly to: number } | null;
  /** Whether only what is played is filmed. */
  readonly playOnly: boolean;
  /** A performance to follow; null for the lesson's own scenes. */
  readonly take: FilmTake | null;
  /** Recordings that are at hand; scenes whose voice is not among them are made without it. */
  readonly voices: readonly VoicePlace[];
}

/** A film to be made. */
export interface FilmOrder extends FilmSource {
  readonly look: FilmLook;
  readonly height: FilmHeight;
  readonly fps: FrameRate;
  /** 'png': every frame a numbered file, without sound. */
  readonly format: FilmFormat | 'png';
  readonly sink: SinkPlace;
  readonly bankUrl: string;
  /** Whether the frames are hashed before they are encoded: for checks. */
  readonly isHashed: boolean;
}

/** A scene's place in a film. */
export interface SceneSpan {
  readonly kind: SceneKind;
  readonly title: string;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

/** A film that is made; its bytes went to the sink. */
export interface MadeFilm extends FilmTexts {
  readonly frames: number;
  readonly seconds: number;
  readonly width: number;
  readonly height: number;
  readonly pictures: number;
  readonly codecs: FilmCodecs | null;
  readonly scenes: readonly SceneSpan[];
  /** Voices it was made without. */
  readonly leftOut: readonly LeftOutVoice[];
  /** Of all frames, where it was asked for. */
  readonly hash: string | null;
}

/** One frame to be looked at. */
export interface StillOrder {
  readonly source: FilmSource;
  readonly look: FilmLook;
  readonly seconds: number;
}

/** What stands beside a film. */
export interface FilmTexts {
  readonly captionsVtt: string;
  readonly captionsSrt: string;
  readonly description: string;
  readonly cueSheet: string;
}

export interface MadeStill extends FilmTexts {
  readonly svg: string;
  readonly seconds: number;
  readonly endSeconds: number;
  readonly scenes: readonly SceneSpan[];
}

/** A recording's sound, or why there is none. */
export type FetchedVoice =
  | { readonly ok: true; readonly samples: Float32Array<ArrayBuffer> }
  | { readonly ok: false; readonly fault: VoiceFault | 'gone' };

/** From the page to the film's worker. */
export type ToFilmWorker =
  | { readonly kind: 'make'; readonly order: FilmOrder }
  | { readonly kind: 'still'; readonly order: StillOrder }
  | { readonly kind: 'drawn'; readonly number: number; readonly bitmap: ImageBitmap }
  | { readonly kind: 'not drawn'; readonly number: number; readonly message: string }
  | { readonly kind: 'heard'; readonly number: number; readonly voice: FetchedVoice }
  | { readonly kind: 'engrave'; readonly number: number; readonly asked: Parameters<Engraver['engrave']> }
  | { readonly kind: 'engraved'; readonly number: number; readonly systems: readonly string[] | null }
  | { readonly kind: 'cancel' };

/** What a film's worker is doing. */
export type FilmStage = 'composing' | 'measuring' | 'filming';

/** From the film's worker to the page. */
export type FromFilmWorker =
  | {
      readonly kind: 'draw';
      readonly number: number;
      readonly svg: string;
      readonly width: number;
      readonly height: number;
    }
  | { readonly kind: 'hear'; readonly number: number; readonly voice: VoicePlace }
  | { readonly kind: 'engrave'; readonly number: number; readonly asked: Parameters<Engraver['engrave']> }
  /** By the worker that engraves; null where it cannot. */
  | { readonly kind: 'engraved'; readonly number: number; readonly systems: readonly string[] | null }
  /** Nothing more is to be engraved. */
  | { readonly kind: 'all engraved' }
  | { readonly kind: 'progress'; readonly stage: FilmStage; readonly done: number; readonly total: number }
  | { readonly kind: 'made'; readonly film: MadeFilm }
  | { readonly kind: 'made still'; readonly still: MadeStill }
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'failed'; readonly message: string; readonly isDiskFull: boolean };
