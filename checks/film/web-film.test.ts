/**
 * Films as the command makes them, judged by Debian's ffmpeg and by the W3C's WebVTT parser (webvtt-parser, CC0): containers, codecs,
 * frames, colour flags, chapters, loudness (EBU R 128), transparency; and whether the tab moves when the music does.
 */
import { execFile, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebVTTParser } from 'webvtt-parser';
import { NO_CHROMIUM } from '../chromium.ts';
import { framesThatMove, onsetsOf, whereItMoves } from './picture-and-sound.ts';
import { midiOf } from './played.ts';
import { spokenTone, wavOf } from './spoken.ts';

const run = promisify(execFile);
const fivespan = join(import.meta.dirname, '../..', 'apps/cli/bin/fivespan.mjs');
const demo = join(import.meta.dirname, '../..', 'examples/DEMO.chart');
const NO_FFMPEG = existsSync('/usr/bin/ffmpeg') ? undefined : 'no ffmpeg here (Debian package ffmpeg)';

interface Told {
  readonly frames: number;
  readonly seconds: number;
  readonly hash: string;
}

interface Probed {
  readonly streams: readonly Record<string, string | number>[];
  readonly chapters: readonly { readonly start_time: string; readonly tags: { readonly title: string } }[];
}

const folder = mkdtempSync(join(tmpdir(), 'fivespan-film-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function film(name: string, ...more: string[]): Promise<Told> {
  const asked = ['film', demo, '-o', join(folder, name), '--height', '360', '--no-titles', '--json', ...more];
  const { stdout } = await run(process.execPath, [fivespan, ...asked], { maxBuffer: 1e8 });
  return JSON.parse(stdout) as Told;
}

async function probe(name: string): Promise<Probed> {
  const asked = ['-v', 'error', '-show_streams', '-show_chapters', '-count_packets', '-of', 'json', join(folder, name)];
  return JSON.parse((await run('ffprobe', asked)).stdout) as Probed;
}

async function decoded(name: string, ...filters: string[]): Promise<Buffer> {
  const asked = ['-v', 'error', '-i', join(folder, name), ...filters, '-'];
  return (await run('ffmpeg', asked, { encoding: 'buffer', maxBuffer: 1e9 })).stdout;
}

/** −14 to −16 LUFS and a true peak of −1 dBTP at most, by ffmpeg's own meter of EBU R 128. */
async function expectLoudness(name: string): Promise<void> {
  const asked = ['-hide_banner', '-nostats', '-i', join(folder, name), '-af', 'ebur128=peak=true'];
  const { stderr } = await run('ffmpeg', [...asked, '-f', 'null', '-'], { maxBuffer: 1e8 });
  const summary = stderr.slice(stderr.lastIndexOf('Summary'));
  const loudness = Number(/I:\s+(-?[\d.]+) LUFS/u.exec(summary)?.[1]);
  const peak = Number(/Peak:\s+(-?[\d.]+) dBFS/u.exec(summary)?.[1]);
  expect(loudness).toBeGreaterThanOrEqual(-16);
  expect(loudness).toBeLessThanOrEqual(-14);
  expect(peak).toBeLessThanOrEqual(-1);
}

describe.skipIf(NO_CHROMIUM ?? NO_FFMPEG)('a film by the command', () => {
  let told: Told;
  // what a command leaves that was killed: a process that is not there any more
  const gone = spawnSync(process.execPath, ['--version']).pid;
  const left = [join(folder, `.unfinished-${gone}`), join(tmpdir(), `fivespan-browser-${gone}-aB3xYz`)];
  beforeAll(async () => {
    for (const each of left) mkdirSync(join(each, 'deep'), { recursive: true });
    told = await film('a.mp4', '--bars', '2-3');
  });

  it('removes what one left that was killed: its unfinished film, its browser’s profile', () => {
    expect(left.filter((each) => existsSync(each))).toEqual([]);
  });

  it('is H.264 and AAC with every frame, as long as its frames, flagged BT.709, its head first, with chapters', async () => {
    const { streams, chapters } = await probe('a.mp4');
    const [video, audio] = streams;
    expect(video).toMatchObject({
      codec_name: 'h264',
      width: 640,
      height: 360,
      r_frame_rate: '30/1',
      avg_frame_rate: '30/1',
      color_space: 'bt709',
      color_primaries: 'bt709',
      color_transfer: 'bt709',
      color_range: 'tv',
    });
    expect(Number(video?.['nb_read_packets'])).toBe(told.frames);
    expect(Number(video?.['duration'])).toBeCloseTo(told.frames / 30, 3);
    expect(audio).toMatchObject({ codec_name: 'aac', channels: 2, sample_rate: '48000' });
    // one packet of sound may go beyond the last frame
    expect(Math.abs(Number(audio?.['duration']) - told.seconds)).toBeLessThan(1024 / 48_000 + 0.001);
    // count-in, two bars of four beats at 132: twice, and what rings
    expect(told.seconds).toBeCloseTo((2 * 3 * 4 * 60) / 132 + 2, 1);
    expect(chapters.map(({ tags }) => tags.title)).toEqual(['Played, E♭ major', 'Your turn, E♭ major']);
    expect(Number(chapters[1]?.start_time)).toBeCloseTo((3 * 4 * 60) / 132, 3);
    const bytes = readFileSync(join(folder, 'a.mp4'));
    expect(bytes.indexOf('moov')).toBeLessThan(bytes.indexOf('mdat'));
  });

  it('moves the tab within a frame of the note that is heard', async () => {
    // where the tabs hang at this size (packages/formats/src/film/layout.ts): nothing else moves there
    const strip = { width: 640, height: 18 };
    const frames = await decoded('a.mp4', '-vf', 'crop=640:18:0:306,format=gray', '-f', 'rawvideo');
    const samples = await decoded('a.mp4', '-ac', '1', '-ar', '8000', '-af', 'lowpass=f=180', '-f', 'f32le');
    const moves = framesThatMove(frames, strip);
    const onsets = onsetsOf(
      new Float32Array(samples.buffer.slice(samples.byteOffset, samples.byteOffset + samples.length)),
      8000,
    );
    // B♭ on one thumb, E♭ on another, in both scenes; and the first scene's end
    expect(moves.length).toBeGreaterThanOrEqual(3);
    const bars = moves.filter((frame) => Math.abs(frame / 30 - (3 * 4 * 60) / 132) > 0.1);
    for (const frame of bars) {
      const nearest = Math.min(...onsets.map((onset) => Math.abs(onset - frame / 30)));
      expect(nearest).toBeLessThanOrEqual(1 / 30 + 0.005);
    }
  });

  it('is as loud as films are, and never clips', async () => {
    await expectLoudness('a.mp4');
  });

  it('has captions that a parser reads, none over another', () => {
    const { cues, errors } = new WebVTTParser().parse(readFileSync(join(folder, 'a.vtt'), 'utf8'), 'captions');
    expect(errors).toEqual([]);
    expect(cues.length).toBeGreaterThanOrEqual(4);
    for (const [index, cue] of cues.entries()) {
      expect(cue.startTime).toBeGreaterThanOrEqual((cues[index - 1]?.endTime ?? 0) - 1e-9);
      expect(cue.endTime).toBeLessThanOrEqual(told.seconds);
    }
    expect(readFileSync(join(folder, 'a.txt'), 'utf8')).toContain('Key: E♭ major');
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  it('has the same frames again, in another container, and a thumbnail beside it', async () => {
    const again = await film('b.webm', '--bars', '2-3');
    expect(again.hash).toBe(told.hash);
    // each container rounds in units of its own: to the millisecond they agree
    const chapters = async (file: string): Promise<string[]> =>
      (await probe(file)).chapters.map(({ start_time, tags }) => `${Number(start_time).toFixed(3)} ${tags.title}`);
    expect(await chapters('b.webm')).toEqual(await chapters('a.mp4'));
    const { width, height } = PNG.sync.read(readFileSync(join(folder, 'b-thumbnail.png')));
    expect([width, height]).toEqual([640, 360]);
  });
});

describe.skipIf(NO_CHROMIUM ?? NO_FFMPEG)('a film with a voice', () => {
  const WORDS = { words: 9, wordSeconds: 0.5, pauseSeconds: 0.2 };
  const SECONDS = WORDS.words * (WORDS.wordSeconds + WORDS.pauseSeconds);

  it('has the scene as long as the voice, the music back under it, and is as loud as every film', async () => {
    writeFileSync(join(folder, 'spoken.wav'), wavOf(spokenTone(WORDS)));
    const voices = `4=${join(folder, 'spoken.wav')},5=${join(folder, 'spoken.wav')}`;
    const asked = ['--height', '360', '--json', '--no-titles', '--bars', '2', '--agreed', '--voice', voices];
    const { stdout } = await run(process.execPath, [fivespan, 'film', demo, '-o', join(folder, 'v.mp4'), ...asked]);
    expect(JSON.parse(stdout)).toMatchObject({ leftOut: [] });
    const { chapters } = await probe('v.mp4');
    expect(Number(chapters[1]?.start_time)).toBeCloseTo(SECONDS, 2);
    await expectLoudness('v.mp4');
    // the tone alone, and the bass alone: while the music lasts, words stand over it
    const level = async (filter: string, from: number, seconds: number): Promise<number> => {
      const cut = ['-ss', String(from), '-t', String(seconds), '-ac', '1', '-ar', '8000', '-af', filter, '-f', 'f32le'];
      const bytes = await decoded('v.mp4', ...cut);
      const samples = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
      return 10 * Math.log10(samples.reduce((sum, each) => sum + each * each, 1e-12) / samples.length);
    };
    const tone = await level('bandpass=f=2000:w=100', 2.2, 0.2);
    const music = await level('lowpass=f=400', 2, 1.4);
    expect(tone - music).toBeGreaterThan(8);
    // in a pause between two words nobody speaks
    expect(tone - (await level('bandpass=f=2000:w=100', 2.64, 0.12))).toBeGreaterThan(12);
  });

  it('is not made of a voice nobody asked for, nor of a file that is none', async () => {
    const asked = ['film', demo, '-o', join(folder, 'w.mp4'), '--voice', `4=${demo}`];
    const stderrOf = async (...more: string[]): Promise<string> => {
      const ended = await run(process.execPath, [fivespan, ...asked, ...more]).catch(
        (error: { stderr: string }) => error,
      );
      return ended.stderr;
    };
    expect(await stderrOf()).toContain('May I use your voice?');
    expect(await stderrOf('--agreed')).toContain('‘DEMO.chart’ is no recording that this browser can read');
    expect(existsSync(join(folder, 'w.mp4'))).toBe(false);
  });
});

/** A line that rises by one key or two; the clap is the lowest key. [seconds, key, length] */
const CLAP_SECONDS = 0.5;
const LINE = [65, 67, 68, 70, 72, 74, 75].map((key, index): [number, number, number] => [
  2.213 + index * 0.377,
  key,
  0.2,
]);

describe.skipIf(NO_CHROMIUM ?? NO_FFMPEG)('a film that follows a performance, over a camera’s picture', () => {
  // the take claps at 0.5 s, the camera's film at 1.264 s
  const LATER = 1.264 - CLAP_SECONDS;
  const box = { x: 149, y: 241, width: 342, height: 60 };

  it('shows every key within a frame of its note, where it lies, on a ground that stays clear', async () => {
    writeFileSync(join(folder, 'take.mid'), midiOf([[CLAP_SECONDS, 36, 0.1], ...LINE]));
    const more = ['--take', join(folder, 'take.mid'), '--sync', '1.264=first', '--count-in', '1', '--tempo', '120'];
    await film('c.webm', '--transparent', '--agreed', ...more);
    const { streams } = await probe('c.webm');
    expect(streams[0]).toMatchObject({ codec_name: 'vp9', color_space: 'bt709' });
    expect(streams[1]).toMatchObject({ codec_name: 'opus' });

    const crop = `crop=${box.width}:${box.height}:${box.x}:${box.y},format=gray`;
    const frames = await decoded('c.webm', '-vf', crop, '-f', 'rawvideo');
    // a sign on a black key is some 30 pixels
    const moves = framesThatMove(frames, box, 15);
    const places: number[] = [];
    for (const [seconds] of LINE) {
      const wanted = (seconds + LATER) * 30;
      const seen = moves.filter((frame) => Math.abs(frame - wanted) <= 1);
      expect(seen).toHaveLength(1);
      places.push(whereItMoves(frames, box, seen[0] as number));
    }
    // from left to right, as the line rises
    expect(places).toEqual(places.toSorted((a, b) => a - b));

    const asked = ['-v', 'error', '-c:v', 'libvpx-vp9', '-ss', '3', '-i', join(folder, 'c.webm'), '-frames:v', '1'];
    const { stdout } = await run('ffmpeg', [...asked, '-f', 'rawvideo', '-pix_fmt', 'rgba', '-'], {
      encoding: 'buffer',
      maxBuffer: 1e8,
    });
    const alphaAt = (x: number, y: number): number => stdout[(y * 640 + x) * 4 + 3] ?? 0;
    // the free frame, and the sheet
    expect(Math.max(alphaAt(20, 20), alphaAt(320, 60), alphaAt(620, 340))).toBeLessThan(8);
    expect(alphaAt(150, 190)).toBeGreaterThan(247);
  });

  it('is not made of anybody who was not asked', async () => {
    const asked = ['film', demo, '-o', join(folder, 'd.mp4'), '--take', join(folder, 'take.mid')];
    const { stderr } = await run(process.execPath, [fivespan, ...asked]).catch((error: { stderr: string }) => error);
    expect(stderr).toContain('May I film what you played?');
    expect(existsSync(join(folder, 'd.mp4'))).toBe(false);
  });
});
