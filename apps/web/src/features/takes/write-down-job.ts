import { formatKey, writeDown, type WrittenDown } from '@fivespan/core';
import type { Job } from '../../platform/workers/index.ts';
import { judgeOpened, openedTake } from './take-view.ts';

export interface WriteDownOrder {
  readonly take: string;
  readonly chorus: number;
  /** Bars of the form, from 0. */
  readonly fromPlace: number;
  readonly toPlace: number;
}

/** What was written down, with the key and the chart it was played from; null where nothing could be. */
export type TakeWritten = {
  readonly pins: WrittenDown['pins'];
  readonly key: string;
  readonly chartText: string;
  readonly notes: number;
  readonly leftOut: number;
} | null;

/** Writes some bars of a take down: the right hand's line, the left hand's where the right was silent. */
export const writeDownJob: Job<WriteDownOrder, TakeWritten> = async ({ take, chorus, fromPlace, toPlace }) => {
  const opened = openedTake(take);
  if (opened.kind === 'damaged') return { value: null };
  const { chartText } = opened;
  const { judged, lesson } = judgeOpened(opened).heard;
  const bars = judged.bars.filter(({ bar }) => bar.chorus === chorus && bar.startTicks >= 0);
  const [first, last] = [bars[fromPlace]?.bar, bars[Math.min(toPlace, bars.length - 1)]?.bar];
  if (first === undefined || last === undefined) return { value: null };
  const stretch = { fromTicks: first.startTicks, toTicks: last.endTicks };
  const right = writeDown(judged, { hand: 'right', ...stretch });
  const written = right.notes.length > 0 ? right : writeDown(judged, { hand: 'left', ...stretch });
  if (written.notes.length === 0) return { value: null };
  const { pins, notes, leftOut } = written;
  return { value: { pins, key: formatKey(lesson.analysis.key), chartText, notes: notes.length, leftOut } };
};
