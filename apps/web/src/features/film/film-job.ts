/** The film's own worker: it composes, draws by way of its page, sounds, encodes and writes. */
import {
  frameCount,
  issueOfFault,
  makeFilm,
  messageOf,
  remedyOf,
  runsOf,
  thumbnailOf,
  writeSrt,
  writeWebVtt,
  type Film,
  type Picture,
} from '@fivespan/core';
import type { Engraver } from '@fivespan/formats/engraving';
import {
  cueSheet,
  englishFilmWords,
  filmChapters,
  filmDescription,
  filmDrawing,
  frameSize,
  type FilmDrawing,
} from '@fivespan/formats/film';
import { FilmFile, FrameCanvas, FrameHash, openSink, type PlacedBitmap } from '../../platform/video/index.ts';
import { workerEngraver } from '../engraving/worker-engraver.ts';
import type {
  FetchedVoice,
  FilmOrder,
  FilmTexts,
  FilmSource,
  FilmStage,
  MadeFilm,
  MadeStill,
  SceneSpan,
  StillOrder,
  VoicePlace,
} from './film-order.ts';
import { heardVoices } from './heard-voices.ts';
import { AskedEngraver } from './asked-engraver.ts';
import { FILM_SAMPLE_RATE } from './film-rate.ts';
import { FilmSound } from './film-sound.ts';

/** What a film's making is given. */
export interface FilmWatch {
  readonly report: (stage: FilmStage, done: number, total: number) => void;
  readonly cancelled: () => boolean;
  /** Lets messages in. */
  readonly breathe: () => Promise<void>;
  /** Has the page draw. */
  readonly draw: (svg: string, width: number, height: number) => Promise<ImageBitmap>;
  /** Has the page decode a recording. */
  readonly hear: (voice: VoicePlace) => Promise<FetchedVoice>;
  /** Has another worker engrave a line, until it is told that all are. */
  readonly engrave: (asked: Parameters<Engraver['engrave']>) => Promise<readonly string[]>;
  readonly allEngraved: () => void;
}

/** Drawn layers kept, in pixels of four bytes: about four frames. */
const MOST_PIXELS_OF_FRAMES = 4;
const MICROS = 1_000_000;
/** What the thumbnail is called where it is taken. */
const THUMBNAIL_FILE = 'thumbnail.png';

let last: { readonly name: string; readonly film: Film } | undefined;

/** The film of a source; the last one is kept, so that looking at its moments costs little. */
function filmOf(
  { chart, choices, key, bars, playOnly, take, voices: places }: FilmSource,
  watch: Pick<FilmWatch, 'report' | 'cancelled'>,
) {
  const voices = places.map(({ hash }) => hash);
  const name = JSON.stringify([chart, choices, key, bars, playOnly, take, voices]);
  if (last?.name === name) return last.film;
  try {
    const film = makeFilm(
      chart,
      choices,
      { key, bars, playOnly, take, voices },
      {
        report: (done, total) => watch.report('composing', done, total),
        cancelled: watch.cancelled,
      },
    );
    if (film !== undefined) last = { name, film };
    return film;
  } catch (error) {
    const issue = issueOfFault(error, chart, (tried) =>
      makeFilm(tried, choices, { key, bars, playOnly, take, voices }),
    );
    throw new Error(`${messageOf(issue)}; ${remedyOf(issue)}`, { cause: error });
  }
}

function spansOf(film: Film): SceneSpan[] {
  const titles = filmChapters(film);
  return film.scenes.map(({ kind, startSeconds, endSeconds }, index) => ({
    kind,
    startSeconds,
    endSeconds,
    title: titles[index]?.title ?? '',
  }));
}

function textsOf(film: Film): FilmTexts {
  const words = englishFilmWords(film.lessons);
  return {
    captionsVtt: writeWebVtt(film.cues, words.caption),
    captionsSrt: writeSrt(film.cues, words.caption),
    description: filmDescription(film, words),
    cueSheet: cueSheet(film, words),
  };
}

/** One frame as an SVG document. */
export async function makeStill(
  { source, look, seconds }: StillOrder,
  watch: FilmWatch,
): Promise<MadeStill | undefined> {
  const film = filmOf(source, watch);
  if (film === undefined) return undefined;
  const drawing = filmDrawing(film, look, await workerEngraver());
  const at = Math.max(0, Math.min(seconds, film.endSeconds - 0.01));
  const still = film.stills.findLast(({ startSeconds }) => startSeconds <= at) ?? film.stills[0];
  if (still === undefined) throw new RangeError('the film must have a scene');
  return {
    svg: drawing.frame(still.picture),
    seconds: at,
    endSeconds: film.endSeconds,
    scenes: spansOf(film),
    ...textsOf(film),
  };
}

/** Draws layers once and keeps them while they are wanted. */
class Layers {
  readonly #drawing: FilmDrawing;
  readonly #scale: number;
  readonly #draw: FilmWatch['draw'];
  readonly #kept = new Map<string, ImageBitmap>();

  constructor(drawing: FilmDrawing, scale: number, draw: FilmWatch['draw']) {
    this.#drawing = drawing;
    this.#scale = scale;
    this.#draw = draw;
  }

  async of(picture: Picture): Promise<PlacedBitmap[]> {
    const layers = this.#drawing.layersOf(picture);
    return await Promise.all(
      layers.map(async ({ key, box, svg }) => {
        const x = Math.floor(box.x * this.#scale);
        const y = Math.floor(box.y * this.#scale);
        const width = Math.max(1, Math.ceil((box.x + box.width) * this.#scale) - x);
        const height = Math.max(1, Math.ceil((box.y + box.height) * this.#scale) - y);
        // what is drawn stands on whole pixels: the document is widened to them
        const whole = svg().replace(
          /viewBox="[^"]*"/u,
          `viewBox="${x / this.#scale} ${y / this.#scale} ${width / this.#scale} ${height / this.#scale}"`,
        );
        const name = `${x} ${y} ${width} ${height} ${key}`;
        const bitmap = this.#kept.get(name) ?? (await this.#draw(whole, width, height));
        // the last used lie at the end
        this.#kept.delete(name);
        this.#kept.set(name, bitmap);
        return { key: name, box: { x, y, width, height }, bitmap };
      }),
    );
  }

  /** Gives up what has not been used for longest. Not while it is shown. */
  forget(shown: readonly PlacedBitmap[], most: number): void {
    let pixels = [...this.#kept.values()].reduce((sum, { width, height }) => sum + width * height, 0);
    for (const [name, bitmap] of this.#kept) {
      if (pixels <= most) return;
      if (shown.some((each) => each.key === name)) continue;
      pixels -= bitmap.width * bitmap.height;
      bitmap.close();
      this.#kept.delete(name);
    }
  }

  close(): void {
    for (const bitmap of this.#kept.values()) bitmap.close();
    this.#kept.clear();
  }
}

/** Brings a film's sound beside its frames. */
class SoundTrack {
  readonly #sound: FilmSound;
  readonly #file: FilmFile;
  readonly #total: number;

  constructor(sound: FilmSound, file: FilmFile, seconds: number) {
    this.#sound = sound;
    this.#file = file;
    this.#total = Math.round(seconds * FILM_SAMPLE_RATE);
  }

  /** Adds sound up to a time of the film; behind its end there is silence. */
  async upTo(seconds: number): Promise<void> {
    const wanted = Math.min(this.#total, Math.ceil(seconds * FILM_SAMPLE_RATE));
    while (this.#file.soundFrames < wanted) {
      const goesOn = this.#sound.step();
      for (const part of this.#sound.taken()) {
        const room = (this.#total - this.#file.soundFrames) * 2;
        await this.#file.addSound(part.length > room ? part.slice(0, room) : part);
      }
      if (!goesOn && this.#file.soundFrames < wanted) {
        const rest = Math.min(FILM_SAMPLE_RATE, this.#total - this.#file.soundFrames);
        await this.#file.addSound(new Float32Array(rest * 2));
      }
    }
  }
}

/** Makes a film. @returns undefined where it was cancelled */
export async function filmJob(order: FilmOrder, watch: FilmWatch): Promise<MadeFilm | undefined> {
  const heard = await heardVoices(order, watch);
  const film = filmOf(heard.source, watch);
  if (film === undefined) return undefined;
  const { fps, format, look } = order;
  const frames = frameCount(film, fps);
  const seconds = frames / fps;
  const size = frameSize(look.shape, order.height);
  const asked = new AskedEngraver(watch.engrave);
  const drawing = filmDrawing(film, look, asked.engraver);
  const runs = runsOf(film, fps);
  const pictures = [...runs.map(({ picture }) => picture), thumbnailOf(film)];
  const isEngraved = await asked.learn(drawing, pictures, watch.cancelled);
  watch.allEngraved();
  if (!isEngraved) return undefined;
  const sound = format === 'png' ? null : await FilmSound.begin(film, order.bankUrl, heard.laidIn(film));
  while (sound !== null && !sound.isMeasured) {
    if (watch.cancelled()) return undefined;
    for (let step = 0; step < 8; step++) sound.step();
    watch.report('measuring', sound.progress.done * 2, sound.progress.total);
    await watch.breathe();
  }
  const sink = await openSink(order.sink);
  const layers = new Layers(drawing, order.height / 1080, watch.draw);
  const canvas = new FrameCanvas(size.width, size.height, drawing.ground);
  const hash = order.isHashed ? new FrameHash() : null;
  let file: FilmFile | null = null;
  let base: VideoFrame | null = null;
  try {
    file =
      format === 'png'
        ? null
        : await FilmFile.begin(
            {
              format,
              ...size,
              fps,
              frames,
              hasAlpha: drawing.ground === null,
              sampleRate: FILM_SAMPLE_RATE,
              chapters: filmChapters(film),
            },
            sink,
          );
    const track = file === null || sound === null ? null : new SoundTrack(sound, file, seconds);
    let coming = runs[0] === undefined ? null : layers.of(runs[0].picture);
    for (const [index, { from, to }] of runs.entries()) {
      const shown = await (coming as Promise<PlacedBitmap[]>);
      canvas.show(shown);
      layers.forget(shown, MOST_PIXELS_OF_FRAMES * size.width * size.height);
      const after = runs[index + 1];
      // the page draws what comes while this is encoded
      coming = after === undefined ? null : layers.of(after.picture);
      coming?.catch(() => undefined);
      await hash?.add(canvas.planes, to - from);
      base?.close();
      base = file === null ? null : canvas.frame(0, Math.round(MICROS / fps));
      const png = file === null ? await canvas.png() : null;
      for (let frame = from; frame < to; frame++) {
        if (watch.cancelled()) return undefined;
        if (png !== null) await sink.file(`${String(frame + 1).padStart(6, '0')}.png`, png);
        if (base !== null && file !== null) {
          await track?.upTo((frame + 1) / fps);
          const timestamp = Math.round((frame * MICROS) / fps);
          await file.addFrame(new VideoFrame(base, { timestamp, duration: Math.round(MICROS / fps) }));
        }
        if (frame % 10 === 0) {
          watch.report('filming', frame, frames);
          await watch.breathe();
        }
      }
    }
    await track?.upTo(seconds);
    await file?.finish();
    canvas.show(await layers.of(thumbnailOf(film)));
    await sink.file(THUMBNAIL_FILE, await canvas.png());
    await sink.close();
    watch.report('filming', frames, frames);
    return {
      frames,
      seconds,
      ...size,
      pictures: runs.length,
      codecs: file?.codecs ?? null,
      scenes: spansOf(film),
      leftOut: film.leftOut,
      ...textsOf(film),
      hash: hash === null ? null : await hash.end(),
    };
  } catch (error) {
    await file?.cancel().catch(() => undefined);
    throw error;
  } finally {
    base?.close();
    layers.close();
    await sink.close().catch(() => undefined);
  }
}
