import { createReadStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, extname, join } from 'node:path';
import {
  clockText,
  ANSWERS,
  analyse,
  DEFAULT_TEMPO_BPM,
  ENGINE_VERSION,
  FASTEST_BPM,
  folderOfTitle,
  inTurn,
  keysAlong,
  KEY_CYCLES,
  LONGEST_PROGRAMME_MINUTES,
  MOST_COUNT_IN_BARS,
  MOST_REST_BARS,
  programmeMinutes,
  SLOWEST_BPM,
  PLAYERS_IN,
  TRIO_PLAYERS,
  USUAL_CHORUSES,
  writeLessonDocument,
  shownText,
  type Analysis,
  type Chart,
  type Choices,
  type Key,
  type Metronome,
  type Programme,
  type TrioPlayer,
} from '@fivespan/core';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { computed, isSameFile, reasonOf } from '../fault.ts';
import { Interrupted, interruptible } from '../interrupt.ts';
import { readOneInput, tellIssues, titleOf } from '../input.ts';
import { writeStaged } from '../lesson/staged-folder.ts';
import { choiceOf, choicesOf, keysOf, textOf } from '../options.ts';
import { bankFile } from '../sound/bank-file.ts';
import { makeSound, type MadeSound } from '../sound/make-sound.ts';
import { SOUND_KINDS, type SoundKind, type SoundOrder } from '../sound/sound-order.ts';

const MOST_CHORUSES = 99;

/** Options that make a programme anew: with any of them a kept one is left aside. */
const PROGRAMME_OPTIONS = 'tempo choruses keys with demo set-up voicings count-in swing rest metronome answers'.split(
  ' ',
);

/** Beats of a metronome as they are asked for. */
const METRONOME_WORDS = ['none', 'all', '2-and-4'] as const;
const METRONOMES: Readonly<Record<(typeof METRONOME_WORDS)[number], Metronome>> = {
  none: 'none',
  all: 'every beat',
  '2-and-4': 'two and four',
};

/** Players as they are asked for. */
const PLAYER_WORDS: Readonly<Record<string, readonly TrioPlayer[]>> = {
  right: ['right hand'],
  left: ['left hand'],
  piano: ['right hand', 'left hand'],
  bass: ['bass'],
  drums: ['drums'],
  all: TRIO_PLAYERS,
};

function countOf(call: Call, name: string, fallback: number, least: number, most: number): number {
  const text = textOf(call, name) ?? String(fallback);
  const count = Number(text);
  if (!/^\d+$/u.test(text) || count < least || count > most) {
    throw new UsageError(`--${name} takes a whole number from ${least} to ${most}, not '${text}'`);
  }
  return count;
}

function kindOf(path: string): SoundKind {
  const ending = extname(path).slice(1).toLowerCase();
  const kind = SOUND_KINDS.find((each) => each === ending);
  if (kind === undefined) {
    throw new UsageError(
      `--out takes a name that ends in ${SOUND_KINDS.map((each) => `.${each}`).join(', ')}, not '${path}'`,
    );
  }
  return kind;
}

/** One tempo, or several with commas: a ladder. */
function tempiOf(call: Call, own: number): number[] {
  const text = textOf(call, 'tempo') ?? String(own);
  return text.split(',').map((word) => {
    const tempo = Number(word);
    if (!/^\s*\d+\s*$/u.test(word) || tempo < SLOWEST_BPM || tempo > FASTEST_BPM) {
      throw new UsageError(
        `--tempo takes beats a minute from ${SLOWEST_BPM} to ${FASTEST_BPM}, several with commas, not '${word}'`,
      );
    }
    return tempo;
  });
}

/** A cycle from the tune's key, keys by name, or the tune's. */
function programmeKeys(call: Call, own: Key): readonly Key[] {
  const text = textOf(call, 'keys')?.trim();
  const cycle = KEY_CYCLES.find((each) => each.replaceAll(' ', '-') === text);
  return cycle === undefined ? keysOf(call, own.mode, [own]) : keysAlong(own, cycle);
}

/** What stands beside the trio. */
function aidsOf(call: Call): Programme['aids'] {
  return {
    restBars: countOf(call, 'rest', 0, 0, MOST_REST_BARS),
    metronome: METRONOMES[choiceOf(call, 'metronome', METRONOME_WORDS, 'none')],
    answers: choiceOf(call, 'answers', ANSWERS, 'none'),
  };
}

/** Everybody but the right hand, which is the student's; with --demo, or to be answered, it plays too. */
function playersOf(call: Call): readonly TrioPlayer[] {
  const words = (textOf(call, 'with') ?? 'left,bass,drums').split(',').map((word) => word.trim());
  const asked = words.flatMap((word) => {
    const players = PLAYER_WORDS[word];
    if (players === undefined) {
      throw new UsageError(`--with takes ${Object.keys(PLAYER_WORDS).join(', ')}, several with commas, not '${word}'`);
    }
    return players;
  });
  if (call.options['demo'] === true || choiceOf(call, 'answers', ANSWERS, 'none') !== 'none') asked.push('right hand');
  return TRIO_PLAYERS.filter((player) => asked.includes(player));
}

/** The programme the options describe, in the key the lesson is shown in where they name none. */
function describedProgramme(call: Call, chart: Chart, shown: Key): Programme {
  const setUp = choiceOf(call, 'set-up', ['trio', 'solo'], 'trio');
  const asked = playersOf(call);
  const players = asked.filter((player) => PLAYERS_IN[setUp].includes(player));
  if (players.length === 0)
    throw new UsageError('--with bass has nobody to play in --set-up solo: the left hand walks there');
  return {
    setUp,
    swing: choiceOf(call, 'swing', ['measured', 'published'], 'measured'),
    voicings: choiceOf(call, 'voicings', ['rootless', 'shells'], 'rootless'),
    countInBars: countOf(call, 'count-in', 2, 0, MOST_COUNT_IN_BARS),
    aids: aidsOf(call),
    choruses: inTurn({
      keys: programmeKeys(call, shown),
      tempi: tempiOf(call, chart.tempoBpm ?? DEFAULT_TEMPO_BPM),
      choruses: countOf(call, 'choruses', USUAL_CHORUSES, 1, MOST_CHORUSES),
      players,
    }),
  };
}

/** The programme kept in a lesson file, or the one the options describe; one that is too long for a file is refused. */
function programmeOf(
  call: Call,
  chart: Chart,
  analysis: Analysis,
  { programme: kept, shownIn }: Pick<Choices, 'programme' | 'shownIn'>,
): Programme {
  const isDescribed = PROGRAMME_OPTIONS.some((name) => call.options[name] !== undefined);
  const programme = kept !== null && !isDescribed ? kept : describedProgramme(call, chart, shownIn ?? analysis.key);
  const minutes = programmeMinutes(chart, analysis.form, programme);
  if (minutes > LONGEST_PROGRAMME_MINUTES) {
    throw new UsageError(
      `that would last ${Math.ceil(minutes)} minutes, and one file takes ${LONGEST_PROGRAMME_MINUTES}: fewer choruses, keys or tempi`,
    );
  }
  return programme;
}

/** One line that grows on a terminal; elsewhere a short line each quarter. */
function progressTeller(title: string) {
  let quarter = -1;
  return (what: string, done: number, total: number): void => {
    const text = shownText(`${title}: ${what} ${Math.floor((done * 100) / total)} %`);
    if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${text}`);
    else if (Math.floor((done * 4) / total) !== quarter) process.stderr.write(`${text}\n`);
    quarter = Math.floor((done * 4) / total);
  };
}

async function makeWatched(order: SoundOrder): Promise<MadeSound> {
  const tell = progressTeller(order.title);
  try {
    return await interruptible(
      async (signal) => await makeSound(order, ({ what, done, total }) => tell(what, done, total), signal),
    );
  } finally {
    if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
  }
}

/** Makes a track to practise with, or the demonstration to imitate. */
export async function run(call: Call): Promise<ExitCode> {
  const input = await readOneInput(call);
  if (input === undefined) {
    process.stderr.write('Nothing was written.\n');
    return EXIT.faults;
  }

  const title = titleOf(input);
  const out = textOf(call, 'out') ?? join('out', `${folderOfTitle(title)}.wav`);
  const kind = kindOf(out);
  const chosen = choicesOf(call, input.choices);
  const analysed = computed(input.chart, (chart) => analyse(chart, chosen.pins.analysis));
  if (!analysed.ok) {
    tellIssues({ file: input.file, issues: analysed.issues });
    return EXIT.faults;
  }
  const analysis = analysed.value;
  const programme = programmeOf(call, input.chart, analysis, chosen);
  const choices = { ...chosen, programme };
  const keep = textOf(call, 'keep');
  for (const [option, file] of Object.entries({ out, keep })) {
    if (file !== undefined && (await isSameFile(input.file, file))) {
      throw new UsageError(`--${option} is the input itself, which stays as it is: take another name than '${file}'`);
    }
  }
  const sampleRate = Number(choiceOf(call, 'rate', ['44100', '48000'], '44100')) as SoundOrder['sampleRate'];
  const bits = Number(choiceOf(call, 'bits', ['16', '24'], '16')) as SoundOrder['bits'];
  const bank = kind === 'mid' ? { path: '' } : await bankFile();
  if ('fault' in bank) {
    process.stderr.write(`fivespan sound: ${bank.fault}\n`);
    return EXIT.faults;
  }

  const scratchFolder = await mkdtemp(join(tmpdir(), 'fivespan-'));
  const order = {
    chart: input.chart,
    choices,
    programme,
    kind,
    title,
    bankFile: bank.path,
    sampleRate,
    bits,
    scratchFolder,
  };
  try {
    return await makeFiles(order, { out, keep, text: input.text });
  } finally {
    await rm(scratchFolder, { recursive: true, force: true });
  }
}

/** A file's pieces, one after the other. */
async function* piecesOf({ head, body, tail }: Extract<MadeSound, { kind: 'made' }>): AsyncGenerator<Uint8Array> {
  yield head;
  yield* createReadStream(body, { highWaterMark: 2 ** 20 });
  yield tail;
}

/** Makes what was ordered and writes it, and the lesson with its programme where that is to be kept. */
async function makeFiles(
  order: SoundOrder,
  { out, keep, text }: { readonly out: string; readonly keep: string | undefined; readonly text: string },
): Promise<ExitCode> {
  const made = await makeWatched(order);
  if (made.kind === 'faults') {
    process.stderr.write(made.messages.map((message) => `fivespan sound: ${message}\n`).join(''));
    return EXIT.faults;
  }
  try {
    await writeStaged(dirname(out), [{ path: basename(out), bytes: piecesOf(made) }]);
    if (keep !== undefined) {
      const document = writeLessonDocument({ chartText: text, choices: order.choices, engine: ENGINE_VERSION });
      await writeStaged(dirname(keep), [{ path: basename(keep), bytes: new TextEncoder().encode(document) }]);
    }
  } catch (error) {
    if (error instanceof Interrupted) throw error;
    process.stderr.write(`fivespan sound: cannot write '${out}': ${reasonOf(error)}\n`);
    return EXIT.faults;
  }
  const chapters = `${made.chapters} ${made.chapters === 1 ? 'chorus' : 'choruses'}`;
  process.stdout.write(`${out}  ${clockText(made.seconds)}  ${chapters}  ${(made.bytes / 1e6).toFixed(1)} MB\n`);
  process.stdout.write('Practise at a moderate level and take breaks; stop if anything hurts or your ears ring.\n');
  return EXIT.done;
}
