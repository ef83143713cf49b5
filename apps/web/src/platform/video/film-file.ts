import {
  AudioSample,
  AudioSampleSource,
  canEncodeAudio,
  canEncodeVideo,
  Mp4OutputFormat,
  Output,
  QUALITY_HIGH,
  StreamTarget,
  VideoSample,
  VideoSampleSource,
  WebMOutputFormat,
  type StreamTargetChunk,
} from 'mediabunny';
import type { FilmSink } from './film-sink.ts';
import { withChapters, type VideoChapter } from './mp4-chapters.ts';
import { CHAPTERS_TAG, roomForChapters, withWebmChapters } from './webm-chapters.ts';

/** What kind of file a film is. */
export type FilmFormat = 'mp4' | 'webm';

export interface FilmFileSettings {
  readonly format: FilmFormat;
  readonly width: number;
  readonly height: number;
  readonly fps: number;
  readonly frames: number;
  readonly hasAlpha: boolean;
  readonly sampleRate: number | null;
  readonly chapters: readonly VideoChapter[];
}

const AUDIO_BITS_A_SECOND = 192_000;
/** The smallest packet of sound any of our encoders makes, in samples: Opus at 20 ms has 960. */
const SMALLEST_PACKET = 480;
const KEY_FRAME_SECONDS = 2;

/** The codecs of a film, the first of each that this browser can write. */
export interface FilmCodecs {
  readonly video: 'avc' | 'vp9';
  readonly audio: 'aac' | 'opus' | null;
}

let hasOwnAac: Promise<void> | undefined;

/**
 * Our own AAC encoder gives everything one of its packets late (the transform's overlap), and says so to nobody: measured by onsets
 * against Opus in one film, 21 ms. Its sound begins that much before the film, where no player shows it.
 */
const OWN_AAC_LATE_FRAMES = 1024;

/** Chromium on Linux has no AAC: ours is compiled, and takes its place where it runs. */
async function offerAac(): Promise<void> {
  if (hasOwnAac === undefined && (await canEncodeAudio('aac'))) return;
  hasOwnAac ??= import('@mediabunny/aac-encoder').then(({ registerAacEncoder }) => registerAacEncoder());
  await hasOwnAac.catch(() => undefined);
}

/** Chooses codecs. @throws Error where this browser has none for the format */
export async function filmCodecs({
  format,
  width,
  height,
  hasAlpha,
  sampleRate,
}: FilmFileSettings): Promise<FilmCodecs> {
  const video = format === 'mp4' ? 'avc' : 'vp9';
  if (!(await canEncodeVideo(video, { width, height, quality: QUALITY_HIGH }))) {
    throw new Error(`this browser cannot write ${video === 'avc' ? 'H.264' : 'VP9'} of ${width} × ${height}`);
  }
  if (hasAlpha && format === 'mp4') throw new RangeError('format must be webm for a clear ground');
  if (sampleRate === null) return { video, audio: null };
  if (format === 'mp4') {
    await offerAac();
    if (await canEncodeAudio('aac', { numberOfChannels: 2, sampleRate })) return { video, audio: 'aac' };
  }
  return { video, audio: 'opus' };
}

/** A film being written, frame by frame and sound beside it. */
export class FilmFile {
  readonly codecs: FilmCodecs;
  readonly #output: Output;
  readonly #video: VideoSampleSource;
  readonly #audio: AudioSampleSource | null;
  readonly #settings: FilmFileSettings;
  readonly #lateFrames: number;
  #soundFrames = 0;

  private constructor(settings: FilmFileSettings, codecs: FilmCodecs, sink: FilmSink) {
    this.codecs = codecs;
    this.#lateFrames = codecs.audio === 'aac' && hasOwnAac !== undefined ? OWN_AAC_LATE_FRAMES : 0;
    this.#settings = settings;
    const { format, fps, frames, sampleRate, hasAlpha } = settings;
    const output = new Output({
      format: format === 'mp4' ? new Mp4OutputFormat({ fastStart: 'reserve' }) : new WebMOutputFormat(),
      target: new StreamTarget(writableTo(sink, settings), { chunked: true, chunkSize: 2 ** 21 }),
    });
    this.#output = output;
    this.#video = new VideoSampleSource({
      codec: codecs.video,
      quality: QUALITY_HIGH,
      keyFrameInterval: KEY_FRAME_SECONDS,
      alpha: hasAlpha ? 'keep' : 'discard',
    });
    if (format === 'webm' && settings.chapters.length > 0)
      output.setMetadataTags({ raw: { [CHAPTERS_TAG]: roomForChapters(settings.chapters) } });
    output.addVideoTrack(this.#video, { frameRate: fps, maximumPacketCount: frames + 1 });
    this.#audio =
      codecs.audio === null ? null : new AudioSampleSource({ codec: codecs.audio, bitrate: AUDIO_BITS_A_SECOND });
    if (this.#audio !== null) {
      const packets = Math.ceil(((frames / fps) * (sampleRate ?? 0)) / SMALLEST_PACKET) + 16;
      output.addAudioTrack(this.#audio, { maximumPacketCount: packets });
    }
  }

  /** Begins a file. */
  static async begin(settings: FilmFileSettings, sink: FilmSink): Promise<FilmFile> {
    const file = new FilmFile(settings, await filmCodecs(settings), sink);
    await file.#output.start();
    return file;
  }

  /** Adds a frame; resolves when the next one may come. The frame is closed. */
  async addFrame(frame: VideoFrame): Promise<void> {
    const sample = new VideoSample(frame);
    try {
      await this.#video.add(sample);
    } finally {
      sample.close();
    }
  }

  /** How much sound there is so far. */
  get soundFrames(): number {
    return this.#soundFrames;
  }

  /** Adds sound: left and right in turn. */
  async addSound(samples: Float32Array<ArrayBuffer>): Promise<void> {
    const { sampleRate } = this.#settings;
    if (this.#audio === null || sampleRate === null || samples.length === 0) return;
    const sample = new AudioSample({
      data: samples,
      format: 'f32',
      numberOfChannels: 2,
      sampleRate,
      timestamp: (this.#soundFrames - this.#lateFrames) / sampleRate,
    });
    this.#soundFrames += samples.length / 2;
    try {
      await this.#audio.add(sample);
    } finally {
      sample.close();
    }
  }

  async finish(): Promise<void> {
    await this.#output.finalize();
  }

  async cancel(): Promise<void> {
    await this.#output.cancel();
  }
}

/** What the muxer writes, with chapters put into the file's head as it goes by. */
function writableTo(sink: FilmSink, { format, chapters }: FilmFileSettings): WritableStream<StreamTargetChunk> {
  return new WritableStream({
    write: async ({ data, position }) => {
      const chaptered =
        chapters.length === 0
          ? data
          : format === 'mp4'
            ? withChapters(data, chapters)
            : withWebmChapters(data, position, chapters);
      await sink.write(chaptered, position);
    },
  });
}
