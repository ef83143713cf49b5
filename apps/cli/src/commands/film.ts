import { createRequire } from 'node:module';
import { dirname, extname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  clockText,
  analyse,
  barsOf,
  folderOfKey,
  folderOfTitle,
  formatKey,
  FRAME_RATES,
  shownText,
  type Chart,
  type FrameRate,
  type Key,
} from '@fivespan/core';
import { FILM_SHAPES, type FilmHeight } from '@fivespan/formats/film';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { computed, isFromSystem, isSameFile, reasonOf } from '../fault.ts';
import { filmInBrowser } from '../film/film-browser.ts';
import type { FilmOrder, FilmStage, MadeFilm } from '../film/film-order.ts';
import { FilmFault } from '../film/film-server.ts';
import { filmTake } from '../film/film-take.ts';
import { filmVoices, leftOutText } from '../film/film-voice.ts';
import { findChromium } from '../film/find-chromium.ts';
import { writeFilm } from '../film/write-film.ts';
import { readOneInput, tellIssues, titleOf } from '../input.ts';
import { choiceOf, choicesOf, keysOf, textOf } from '../options.ts';

/** What is being done, in words. */
const STAGE_WORDS: Readonly<Record<FilmStage, string>> = {
  composing: 'composing',
  measuring: 'measuring the sound',
  filming: 'filming',
};

/** A film's folder of numbered pictures, or a film, by the name's ending. */
function formatOf(call: Call, out: string): FilmOrder['format'] {
  if (call.options['png'] === true) return 'png';
  const ending = extname(out).slice(1).toLowerCase();
  if (ending === 'mp4' || ending === 'webm') return ending;
  throw new UsageError(`--out takes a name that ends in .mp4 or .webm (or a folder with --png), not '${out}'`);
}

/** Bars as they are counted on paper: `1-8`, or one of them. */
function barsOption(call: Call, chart: Chart): FilmOrder['bars'] {
  const text = textOf(call, 'bars');
  if (text === undefined) return null;
  const [, first, last = first] = /^\s*(\d+)(?:\s*[-–]\s*(\d+))?\s*$/u.exec(text) ?? [];
  const [from, to] = [Number(first), Number(last)];
  const most = Math.max(0, ...barsOf(chart).map(({ number }) => number));
  if (first === undefined || from < 1 || to < from || to > most) {
    throw new UsageError(`--bars takes bars of the chart from 1 to ${most}, such as 1-8, not '${text}'`);
  }
  return { from, to };
}

function lookOf(call: Call): FilmOrder['look'] {
  const isClear = call.options['transparent'] === true;
  return {
    shape: choiceOf(call, 'shape', [...FILM_SHAPES], 'wide'),
    theme: choiceOf(call, 'theme', ['light', 'dark'], 'light'),
    ground: isClear ? 'clear' : 'paper',
    hasNotes: !isClear || call.options['notes'] === true,
    hasCaptions: call.options['no-captions'] !== true,
  };
}

/** The workbench's built files, built now where they are older than their sources. */
async function builtWorkbench(): Promise<string> {
  const root = join(dirname(createRequire(import.meta.url).resolve('@fivespan/formats/film')), '..', '..', '..', '..');
  // a build script in plain JavaScript, which says what it does
  const { ensureWorkbench } = (await import(pathToFileURL(join(root, 'tools', 'workbench.mjs')).href)) as {
    readonly ensureWorkbench: (root: string) => Promise<string>;
  };
  return await ensureWorkbench(root);
}

/** One line that grows on a terminal; elsewhere a short line each quarter. */
function progressTeller(title: string) {
  let before = '';
  const started = performance.now();
  return (stage: FilmStage, done: number, total: number): void => {
    const share = total === 0 ? 1 : done / total;
    const spent = (performance.now() - started) / 1000;
    const left = stage === 'filming' && share > 0.05 ? `, ${Math.ceil((spent * (1 - share)) / share)} s left` : '';
    const text = shownText(`${title}: ${STAGE_WORDS[stage]} ${Math.floor(share * 100)} %${left}`);
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
    else if (`${stage} ${Math.floor(share * 4)}` !== before) process.stderr.write(`${text}\n`);
    before = `${stage} ${Math.floor(share * 4)}`;
  };
}

/** A film's own name where several are made: the key behind it. */
function nameFor(out: string, key: Key, isOneOfSeveral: boolean): string {
  if (!isOneOfSeveral) return out;
  const ending = extname(out);
  return `${out.slice(0, out.length - ending.length)}-${folderOfKey(key)}${ending}`;
}

/** Makes a lesson's film, one for each key that is asked for. */
export async function run(call: Call): Promise<ExitCode> {
  const input = await readOneInput(call);
  if (input === undefined) {
    process.stderr.write('Nothing was written.\n');
    return EXIT.faults;
  }
  const title = titleOf(input);
  const out =
    textOf(call, 'out') ?? join('out', `${folderOfTitle(title)}${call.options['png'] === true ? '' : '.mp4'}`);
  const look = lookOf(call);
  const format = formatOf(call, out);
  if (look.ground === 'clear' && format === 'mp4') {
    throw new UsageError('--transparent takes a name that ends in .webm, or --png: MP4 holds no transparency');
  }
  const height = Number(choiceOf(call, 'height', ['1080', '720', '480', '360'], '1080')) as FilmHeight;
  const rates = FRAME_RATES.map(String) as [string, ...string[]];
  const fps = Number(choiceOf(call, 'fps', rates, '30')) as FrameRate;
  const bars = barsOption(call, input.chart);
  const choices = choicesOf(call, input.choices);
  const analysed = computed(input.chart, (chart) => analyse(chart, choices.pins.analysis));
  if (!analysed.ok) {
    tellIssues({ file: input.file, issues: analysed.issues });
    return EXIT.faults;
  }
  const own = choices.shownIn ?? analysed.value.key;
  const keys = keysOf(call, own.mode, [own]);
  for (const key of keys) {
    if (await isSameFile(input.file, nameFor(out, key, keys.length > 1))) {
      throw new UsageError(`--out is the input itself, which stays as it is: take another name than '${out}'`);
    }
  }
  if (textOf(call, 'take') !== undefined && keys.length > 1) {
    throw new UsageError('--take goes with one key, the one it was played in');
  }
  const followed = await filmTake(call, input, keys[0] ?? own);
  if ('issues' in followed) {
    tellIssues(followed);
    process.stderr.write('Nothing was written.\n');
    return EXIT.faults;
  }
  const { take } = followed;
  if (textOf(call, 'voice') !== undefined && (keys.length > 1 || take !== null)) {
    throw new UsageError(
      take === null
        ? '--voice goes with one key, the one it speaks of'
        : '--voice goes with scenes, and --take is a film of one performance',
    );
  }
  const spoken = await filmVoices(call, input.chart, choices, keys[0] ?? own);
  const chromium = findChromium();
  if ('fault' in chromium) {
    process.stderr.write(`fivespan film: ${chromium.fault}\n`);
    return EXIT.faults;
  }
  const root = await builtWorkbench();
  const isJson = call.options['json'] === true;
  const playOnly = call.options['no-titles'] === true;
  for (const key of keys) {
    const file = nameFor(out, key, keys.length > 1);
    const chart = { ...input.chart, title };
    const order = {
      chart,
      choices: spoken.choices,
      key,
      bars,
      playOnly,
      take,
      look,
      height,
      fps,
      format,
      isHashed: isJson,
    };
    try {
      const started = performance.now();
      const report = progressTeller(`${title}, ${formatKey(key)}`);
      const made = await writeFilm(
        file,
        format,
        async (folder, signal) =>
          await filmInBrowser(order, { chromium: chromium.path, root, folder, voices: spoken.voices, report, signal }),
      );
      if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
      const tookSeconds = (performance.now() - started) / 1000;
      process.stderr.write(leftOutText(made.leftOut));
      process.stdout.write(isJson ? jsonLine(file, key, fps, made, tookSeconds) : textLines(file, made, tookSeconds));
    } catch (error) {
      if (!(error instanceof FilmFault) && !isFromSystem(error)) throw error;
      const reason = error instanceof FilmFault ? error.message : reasonOf(error);
      process.stderr.write(`fivespan film: '${file}' was not made: ${reason}\n`);
      return EXIT.faults;
    }
  }
  if (!isJson) process.stdout.write('Keep the level moderate when it is played loud to a class.\n');
  return EXIT.done;
}

const tenths = (value: number): number => Math.round(value * 10) / 10;

function jsonLine(file: string, key: Key, fps: number, made: MadeFilm, tookSeconds: number): string {
  const { frames, seconds, width, height, pictures, codecs, hash, leftOut } = made;
  const about = { file, key: formatKey(key), frames, seconds, fps, width, height, pictures, codecs, hash, leftOut };
  return `${JSON.stringify({ ...about, tookSeconds: tenths(tookSeconds), speed: tenths(seconds / tookSeconds) })}\n`;
}

function textLines(file: string, { seconds, width, height, codecs }: MadeFilm, tookSeconds: number): string {
  const names = { avc: 'H.264', vp9: 'VP9', aac: 'AAC', opus: 'Opus' } as Readonly<Record<string, string>>;
  const sound = codecs?.audio == null ? '' : ` and ${names[codecs.audio] ?? codecs.audio}`;
  const kind = codecs === null ? 'PNG' : `${names[codecs.video] ?? codecs.video}${sound}`;
  return `${file}  ${clockText(seconds)}  ${width} × ${height}  ${kind}  ${tenths(seconds / tookSeconds)} × real time\n`;
}
