import {
  folderOfTitle,
  LONGEST_PROGRAMME_MINUTES,
  programmeMinutes,
  type Lesson,
  type Programme,
} from '@fivespan/core';
import { BANK_URL } from '../../platform/audio/bank-file.ts';
import { runJob } from '../../platform/workers/index.ts';
import { order } from './orders.ts';
import type { PrintedLesson } from './printed-lesson.ts';
import type { SoundFileOrder, SoundFileProgress, SoundKind } from './sound-file-job.ts';

/** The kinds of sound file, the one for every player first. */
export const SOUND_KINDS: readonly SoundKind[] = ['mp3', 'wav', 'flac', 'mid'];

/** Media types. Source: RFC 3003, RFC 9639, RFC 6295 (from memory); for WAV common practice. */
const TYPES: Readonly<Record<SoundKind, string>> = {
  mp3: 'audio/mpeg',
  wav: 'audio/wav',
  flac: 'audio/flac',
  mid: 'audio/midi',
};

let last = 0;

/** How long a programme lasts, and whether a file takes it. */
export function lengthOf(lesson: Lesson, programme: Programme): { readonly minutes: number; readonly fits: boolean } {
  const minutes = programmeMinutes(lesson.chart, lesson.analysis.form, programme);
  return { minutes, fits: minutes <= LONGEST_PROGRAMME_MINUTES };
}

async function makeSound(
  asked: SoundFileOrder,
  signal: AbortSignal,
  report: (done: number, total: number) => void,
): Promise<Uint8Array> {
  const options = { urgency: 'later', signal, home: 'sound file' } as const;
  try {
    let now = await runJob<SoundFileOrder, SoundFileProgress>('begin sound file', asked, options);
    while (now.kind === 'so far') {
      report(now.done, now.total);
      now = await runJob<number, SoundFileProgress>('go on with sound file', asked.number, options);
    }
    return now.bytes;
  } catch (error) {
    // what is half made is no use: its memory is wanted back
    void runJob<number, true>('drop sound file', asked.number, { home: options.home }).catch(() => {});
    throw error;
  }
}

/** Makes and saves a sound file of a programme: what `fivespan sound` writes, from the smaller bank. */
export function saveSound(lesson: PrintedLesson, programme: Programme, kind: SoundKind): Promise<void> {
  const { chart, choices } = lesson;
  const number = ++last;
  return order({ kind: 'sound', format: kind }, async ({ report, signal }) => {
    const asked = { number, chart, choices, programme, kind, title: chart.title, bankUrl: BANK_URL };
    return {
      name: `${folderOfTitle(chart.title)}.${kind}`,
      bytes: await makeSound(asked, signal, report),
      type: TYPES[kind],
    };
  });
}
