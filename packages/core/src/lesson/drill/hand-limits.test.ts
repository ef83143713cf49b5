import { describe, expect, test } from 'vitest';
import { readChart, type Chart } from '../../chart/index.ts';
import { moveHundredths } from '../../hand/index.ts';
import { midi, noteName, pitchAt } from '../../theory/index.ts';
import { DEFAULT_CHOICES, type Lesson } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import { FASTEST_BPM } from '../programme/programme.ts';
import { leftHandLimitBpm, ownNotesLimitBpm } from './hand-limits.ts';

function lessonOf(text: string): Lesson {
  const read = readChart(text);
  if (!read.ok) throw new TypeError('text must be a chart');
  return makeLesson(read.value as Chart, DEFAULT_CHOICES);
}

/** A lesson whose bass has these keys, a beat each. */
function withBass(lesson: Lesson, keys: readonly number[]): Lesson {
  const [note] = lesson.bass;
  if (note === undefined) throw new TypeError('the lesson must have a bass');
  const bass = keys.map((key, index) => ({
    ...note,
    startTicks: index * 960,
    pitch: pitchAt(noteName('C'), midi(key)),
  }));
  return { ...lesson, bass };
}

/** A lesson whose thumb is on these keys, a chord each. */
function withThumbs(lesson: Lesson, keys: readonly number[]): Lesson {
  const slots = lesson.plan.slots.map((slot, index) => ({ ...slot, thumbMidi: midi(keys[index] as number) }));
  return { ...lesson, plan: { ...lesson.plan, slots } };
}

const lesson = lessonOf('key: C major\ntempo: 200\n\n| Dm7 | G7 | Cmaj7 Am7 | Dm7 |\n');

describe('how fast a hand may go', () => {
  test('to the next position there is half a chord, two beats at most', () => {
    expect(ownNotesLimitBpm(withThumbs(lesson, [60, 60, 60, 60, 60]))).toBe(FASTEST_BPM);
    const hundredths = moveHundredths(midi(55), midi(84));
    // over a whole bar two beats, out of a half bar one
    const [slow, fast] = [6000, 12_000].map((each) => Math.min(FASTEST_BPM, Math.floor(each / hundredths)));
    expect(ownNotesLimitBpm(withThumbs(lesson, [55, 84, 84, 84, 84]))).toBe(fast);
    expect(ownNotesLimitBpm(withThumbs(lesson, [55, 55, 55, 84, 84]))).toBe(slow);
    expect(slow).toBeLessThan(FASTEST_BPM);
  });

  test('a bass within the hand’s reach sets no limit, a leap does', () => {
    expect(leftHandLimitBpm(withBass(lesson, [36, 48, 36]))).toBe(FASTEST_BPM);
    const leap = leftHandLimitBpm(withBass(lesson, [36, 60, 36]));
    expect(leap).toBe(Math.floor(6000 / moveHundredths(midi(36), midi(60))));
    expect(leap).toBeLessThan(FASTEST_BPM);
  });
});
