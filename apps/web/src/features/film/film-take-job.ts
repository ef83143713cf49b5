/** A performance for a film to follow: in a worker, for a record from outside is never trusted. */
import {
  barOneSeconds,
  computeLesson,
  heardTake,
  parseKey,
  readAround,
  readLessonDocument,
  readTake,
  takeTempo,
  type Chart,
  type Choices,
  type FilmTake,
  type Issue,
  type Key,
} from '@fivespan/core';
import { readTakeMidi } from '@fivespan/formats/midi';
import type { Job } from '../../platform/workers/index.ts';

/** A take that is kept, as core writes it; or a MIDI file and the lesson it was played from. */
export type FilmTakeOrder =
  | { readonly kind: 'kept'; readonly text: string }
  | { readonly kind: 'file'; readonly bytes: Uint8Array; readonly document: string };

/** What was played, and the lesson it was played from in its key. */
export interface FollowedTake {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
  readonly played: Pick<FilmTake, 'notes' | 'tempoBpm' | 'barOneSeconds' | 'clock'>;
}

export type FilmTakeRead =
  | { readonly kind: 'take'; readonly take: FollowedTake }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] };

export const filmTakeJob: Job<FilmTakeOrder, FilmTakeRead> = async (order) => {
  const refused = (issues: readonly Issue[]): { readonly value: FilmTakeRead } => ({
    value: { kind: 'refused', issues },
  });
  const kept = order.kind === 'kept' ? readTake(order.text) : null;
  if (kept !== null && !kept.ok) return refused(kept.issues);
  const midi = order.kind === 'file' ? readTakeMidi(order.bytes) : null;
  if (midi !== null && !midi.ok) return refused(midi.issues);
  const document = readLessonDocument(order.kind === 'file' ? order.document : (kept?.value.document ?? ''));
  if (!document.ok) return refused(document.issues);
  const { chart, issues } = readAround(document.value.chartText);
  if (chart === null) return refused(issues);
  const { choices } = document.value;
  const named = kept?.value.programme.key ?? null;
  const computed = computeLesson(chart, choices, named === null ? null : (parseKey(named) ?? null));
  if (!computed.ok) return refused(computed.issues);
  const lesson = computed.value;
  const { key } = lesson.analysis;
  if (kept !== null) {
    // what is heard counts from bar 1, the record from its beginning; its clock is the computer's
    const start = kept.value.barOneMicros / 1_000_000;
    const notes = heardTake(kept.value).map((note) => ({ ...note, startSeconds: note.startSeconds + start }));
    const played = { notes, tempoBpm: kept.value.programme.tempoBpm, barOneSeconds: start, clock: [] };
    return { value: { kind: 'take', take: { chart, choices, key, played } } };
  }
  const { notes, quartersAMinute, markers, clock } = (midi as Extract<typeof midi, { ok: true }>).value;
  const tempoBpm = takeTempo(quartersAMinute, lesson);
  const start = barOneSeconds(lesson, tempoBpm, { markers, countInBars: null });
  return {
    value: { kind: 'take', take: { chart, choices, key, played: { notes, tempoBpm, barOneSeconds: start, clock } } },
  };
};
