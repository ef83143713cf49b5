import {
  folderOfTitle,
  LONGEST_PROGRAMME_MINUTES,
  programmeMinutes,
  type Lesson,
  type Programme,
} from '@fivespan/core';
import { BANK_URL } from '../../platform/audio/bank-file.ts';
import { order } from './orders.ts';
import { makeInPieces } from './piecewise.ts';
import type { PrintedLesson } from './printed-lesson.ts';
import type { SoundFileOrder, SoundKind } from './sound-file-job.ts';

/** The kinds of sound file, the one for every player first. */
export const SOUND_KINDS: readonly SoundKind[] = ['mp3', 'wav', 'flac', 'mid'];

/** Media types. Source: RFC 3003, RFC 9639, RFC 6295 (from memory); for WAV common practice. */
const TYPES: Readonly<Record<SoundKind, string>> = {
  mp3: 'audio/mpeg',
  wav: 'audio/wav',
  flac: 'audio/flac',
  mid: 'audio/midi',
};

/** How long a programme lasts, and whether a file takes it. */
export function lengthOf(lesson: Lesson, programme: Programme): { readonly minutes: number; readonly fits: boolean } {
  const minutes = programmeMinutes(lesson.chart, lesson.analysis.form, programme);
  return { minutes, fits: minutes <= LONGEST_PROGRAMME_MINUTES };
}

/** Makes and saves a sound file of a programme: what `fivespan sound` writes, from the smaller bank. */
export function saveSound(lesson: PrintedLesson, programme: Programme, kind: SoundKind): Promise<void> {
  const { chart, choices } = lesson;
  return order({ kind: 'sound', format: kind }, async ({ report, signal }) => {
    const asked: SoundFileOrder = { chart, choices, programme, kind, title: chart.title, bankUrl: BANK_URL };
    return {
      name: `${folderOfTitle(chart.title)}.${kind}`,
      bytes: await makeInPieces<SoundFileOrder>('sound file', asked, {
        urgency: 'later',
        signal,
        report,
        home: 'sound file',
      }),
      type: TYPES[kind],
    };
  });
}
