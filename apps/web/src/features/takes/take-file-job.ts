/** Takes as MIDI files, and MIDI files as takes: in a worker, for a file from outside is never trusted. */
import {
  barOneSeconds,
  computeLesson,
  ENGINE_VERSION,
  formatKey,
  isTempoStated,
  readAround,
  readLessonDocument,
  takeTempo,
  writeTake,
  type Issue,
  type Take,
} from '@fivespan/core';
import { readTakeMidi, writeTakeMidi } from '@fivespan/formats/midi';
import type { Job } from '../../platform/workers/index.ts';
import { openedTake } from './take-view.ts';

/** Writes a take as a MIDI file; null where it cannot be read any more. */
export const takeFileJob: Job<string, Uint8Array | null> = async (text) => {
  const opened = openedTake(text);
  if (opened.kind === 'damaged') return { value: null };
  const bytes = writeTakeMidi(opened.take, opened.lesson);
  return { value: bytes, transfer: [bytes.buffer] };
};

export interface TakeInOrder {
  readonly bytes: Uint8Array;
  readonly lessonId: string;
  /** The lesson it was played from. */
  readonly document: string;
}

export type TakenIn =
  | { readonly kind: 'take'; readonly take: string; readonly key: string; readonly tempoBpm: number }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] };

/** Room before bar 1 for a pickup and an early hand. */
const LEAST_LEAD_SECONDS = 1;

/** Makes a take of a MIDI file that was recorded elsewhere. */
export const takeInJob: Job<TakeInOrder, TakenIn> = async ({ bytes, lessonId, document }) => {
  const refused = (issues: readonly Issue[]): { readonly value: TakenIn } => ({ value: { kind: 'refused', issues } });
  const midi = readTakeMidi(bytes);
  if (!midi.ok) return refused(midi.issues);
  const read = readLessonDocument(document);
  if (!read.ok) return refused(read.issues);
  const { chart, issues } = readAround(read.value.chartText);
  if (chart === null) return refused(issues);
  const computed = computeLesson(chart, read.value.choices, null);
  if (!computed.ok) return refused(computed.issues);
  const lesson = computed.value;
  const { quartersAMinute, markers, notes } = midi.value;
  const tempoBpm = takeTempo(quartersAMinute, lesson);
  const start = barOneSeconds(lesson, tempoBpm, { markers, countInBars: null });
  const shift = Math.max(0, LEAST_LEAD_SECONDS - start);
  const micros = (seconds: number): number => Math.round(seconds * 1_000_000);
  const key = formatKey(lesson.analysis.key);
  const take: Take = {
    engine: ENGINE_VERSION,
    lesson: lessonId,
    edition: 0,
    document,
    // a file that says where its time is was played to a click
    programme: { tempoBpm, key, countInBars: 0, isToClick: markers.length > 0 || isTempoStated(quartersAMinute) },
    barOneMicros: micros(start + shift),
    delayMs: 0,
    notes: notes.map(({ startSeconds, durationSeconds, key: struck, velocity, hand }) => ({
      startMicros: micros(startSeconds + shift),
      durationMicros: micros(durationSeconds),
      key: struck,
      velocity,
      channel: hand === 'right' ? 0 : 1,
    })),
    pedals: [],
  };
  return { value: { kind: 'take', take: writeTake(take), key, tempoBpm } };
};
