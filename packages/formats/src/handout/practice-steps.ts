import { barsOf, type Lesson } from '@fivespan/core';
import type { HandoutWords } from './words.ts';

/** One step of practice with its metronome marks; one where both are equal. */
export interface PracticeStep {
  readonly text: string;
  readonly fromBpm: number;
  readonly toBpm: number;
}

/** Slower than this a beat is hard to feel; quicker steps are counted in fours, as metronomes are. From memory. */
const SLOWEST_BPM = 40;

/** A share of the lesson's tempo, to the nearest four beats a minute, never above the tempo itself. */
export function shareOfTempo(tempoBpm: number, percent: number): number {
  if (percent === 100) return tempoBpm;
  const share = Math.round((tempoBpm * percent) / 400) * 4;
  return Math.min(tempoBpm, Math.max(share, SLOWEST_BPM));
}

/** Bars a first portion has. */
const PORTION_BARS = 4;

/**
 * The steps of a lesson, from the thumb alone to one's own chorus; tempi rise from half the lesson's tempo to all of it.
 * @param written the bars written out, where it is not the whole chorus: then three steps say it
 */
export function practiceSteps(
  lesson: Lesson,
  words: HandoutWords,
  written?: { readonly from: number; readonly to: number },
): PracticeStep[] {
  const tempo = lesson.score.tempoBpm;
  const at = (text: string, from: number, to: number): PracticeStep => ({
    text,
    fromBpm: shareOfTempo(tempo, from),
    toBpm: shareOfTempo(tempo, to),
  });
  const numbers = barsOf(lesson.chart)
    .map((bar) => bar.number)
    .filter((number) => number > 0);
  const first = numbers[0] ?? 1;
  const last = numbers[Math.min(PORTION_BARS, numbers.length) - 1] ?? first;
  const writtenText =
    written === undefined
      ? words.step.written(String(first), String(last))
      : words.step.writtenHere(String(written.from), String(written.to));
  const isWhole = written === undefined;
  const hasHand = lesson.plan.slots.some((slot) => slot.position !== null);
  return [
    ...(hasHand ? [at(words.step.thumbs, 50, 50), at(words.step.positions, 50, 75)] : []),
    ...(isWhole && lesson.bass.length > 0 ? [at(words.step.bass, 60, 75)] : []),
    ...(isWhole && lesson.arpeggios.length > 0 ? [at(words.step.thirds, 50, 70)] : []),
    ...(lesson.chorus.length > 0 ? [at(writtenText, 60, 100)] : []),
    ...(isWhole && hasHand ? [at(words.step.own, 75, 100)] : []),
  ];
}
