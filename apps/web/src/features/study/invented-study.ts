import { DEFAULT_CHOICES, makeLesson, readChart, type Choices, type Lesson } from '@fivespan/core';

/** A lesson for tests, of an invented chart. */
export function lessonOf(text: string, choices: Partial<Choices> = {}): Lesson {
  const read = readChart(text);
  if (!read.ok) throw new RangeError(`text must be a chart: ${JSON.stringify(read.issues)}`);
  return makeLesson(read.value, { ...DEFAULT_CHOICES, ...choices });
}

/** A ii–V–I played twice, then one in another key. */
export const TWICE = 'key: C major\nmeter: 4/4\n\nA:\n|: Dm7 G7 | Cmaj7 :|\n\nB:\n| Fm7 | Bb7 | Ebmaj7 | Ebmaj7 |\n';
