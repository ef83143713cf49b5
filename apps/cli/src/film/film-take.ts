import {
  barOneSeconds,
  clockFault,
  clockTime,
  makeLesson,
  readClock,
  type ClockMark,
  type FilmTake,
  type HeardNote,
  type Key,
} from '@fivespan/core';
import { UsageError, type Call } from '../command.ts';
import type { FaultyInput, Input } from '../input.ts';
import { choicesOf, textOf } from '../options.ts';
import { countInOption, readTake, tempoOf } from '../take/read-take.ts';

const WHAT_SYNC_TAKES =
  "--sync takes a time of the camera's film and what is there in the take: 3.25=first (its first note), =last, " +
  '=C2 (that key struck first) or =0.8 (seconds); a second one behind a comma corrects drift: 3.25=first,1:05.1=last';

/** Half steps from C. */
const LETTERS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** When what is named is struck in the take; null where nothing of that name is. */
function strokeOf(text: string, notes: readonly HeardNote[]): number | null {
  const name = text.trim();
  if (name === 'first') return notes[0]?.startSeconds ?? null;
  if (name === 'last') return notes.at(-1)?.startSeconds ?? null;
  const [, letter, sign = '', octave] = /^([A-G])([b#♭♯]?)(\d)$/u.exec(name) ?? [];
  if (letter === undefined) return readClock(name);
  const by = sign === '' ? 0 : sign === 'b' || sign === '♭' ? -1 : 1;
  const key = 12 * (Number(octave) + 1) + (LETTERS[letter] ?? 0) + by;
  const struck = notes.find((note) => note.key === key);
  if (struck === undefined) throw new UsageError(`--sync names ${name}, a key that is never struck in the take`);
  return struck.startSeconds;
}

/** The marks that `--sync` sets. */
export function marksOf(text: string | undefined, notes: readonly HeardNote[]): ClockMark[] {
  if (text === undefined) return [];
  const marks = text.split(',').map((each): ClockMark => {
    const [film = '', take, ...more] = each.split('=');
    const filmSeconds = readClock(film);
    const takeSeconds = take === undefined ? null : strokeOf(take, notes);
    if (filmSeconds === null || takeSeconds === null || more.length > 0) {
      throw new UsageError(`${WHAT_SYNC_TAKES}; not '${text}'`);
    }
    return { filmSeconds, takeSeconds };
  });
  const fault = clockFault(marks);
  if (fault === 'too many') throw new UsageError(`--sync takes one mark or two, not ${marks.length}`);
  if (fault === 'too close') throw new UsageError("--sync's two marks must lie a second apart or more");
  if (fault === 'too far off') {
    const [first, second] = marks as [ClockMark, ClockMark];
    const film = (second.filmSeconds - first.filmSeconds).toFixed(3);
    const take = (second.takeSeconds - first.takeSeconds).toFixed(3);
    throw new UsageError(
      `--sync's marks lie ${film} s apart in the film and ${take} s in the take: no two clocks differ so much; is each of them the moment it is taken for?`,
    );
  }
  return marks;
}

function offsetOf(call: Call): number {
  const text = textOf(call, 'offset');
  if (text === undefined) return 0;
  const [, ms] = /^([+-]?\d{1,7}(?:\.\d+)?)(?: ?ms)?$/u.exec(text.trim()) ?? [];
  if (ms === undefined) {
    throw new UsageError(
      `--offset takes milliseconds by which everything is seen later, such as 40 or -40, not '${text}'`,
    );
  }
  return Number(ms);
}

/** Options that mean something only where a take is followed. */
const OF_A_TAKE = ['sync', 'offset', 'count-in', 'tempo', 'player'] as const;

/**
 * The take that `--take` names, as a film follows it.
 * @returns null where none is asked for; the reader's issues where it cannot be read
 */
export async function filmTake(
  call: Call,
  input: Input,
  key: Key,
): Promise<{ readonly take: FilmTake | null } | FaultyInput> {
  const file = textOf(call, 'take');
  if (file === undefined) {
    const given = OF_A_TAKE.find((name) => call.options[name] !== undefined);
    if (given !== undefined) throw new UsageError(`--${given} goes with --take TAKE.mid, the performance to follow`);
    if (call.options['agreed'] === true && call.options['voice'] === undefined) {
      throw new UsageError('--agreed goes with --take TAKE.mid or --voice SCENE=FILE: somebody else played or spoke');
    }
    return { take: null };
  }
  if (call.options['bars'] !== undefined) {
    throw new UsageError('--bars does not go with --take: a performance is followed from its first note to its last');
  }
  if (call.options['agreed'] !== true) {
    throw new UsageError(
      'a film shows what somebody played. Ask them first: “May I film what you played?” Then say --agreed (for your own playing too)',
    );
  }
  const read = await readTake(file);
  if (!read.ok) return { file, issues: read.issues };
  const { notes, markers, clock } = read.value;
  const lesson = makeLesson(input.chart, choicesOf(call, input.choices), key);
  const tempoBpm = tempoOf(call, read.value, lesson);
  const byTheClock = notes.map((note) => ({ ...note, startSeconds: clockTime(clock, note.startSeconds) }));
  return {
    take: {
      notes,
      tempoBpm,
      barOneSeconds: barOneSeconds(lesson, tempoBpm, { markers, countInBars: countInOption(call) }),
      clock,
      marks: marksOf(textOf(call, 'sync'), byTheClock),
      offsetMs: offsetOf(call),
      player: textOf(call, 'player') ?? null,
    },
  };
}
