import { levelWishes, MOST_WISHES, type Lesson } from '@fivespan/core';
import { $open, changeLesson } from '../open-lesson/index.ts';

/** One point of the curve: a bar of the form as it is played, or some where the form has very many. */
export interface CurvePoint {
  readonly fromBar: number;
  readonly toBar: number;
  /** The section that begins here; null where none does. */
  readonly section: string | null;
  /** How far outside, from 0. */
  readonly wish: number;
}

/**
 * The curve over the form, a point a bar. A teacher's own in fewer stretches is shown bar by bar too.
 * @param curve the teacher's own; empty for the level's
 */
export function curvePoints({ analysis, choices }: Lesson, curve: readonly number[]): CurvePoint[] {
  const { bars } = analysis.form;
  const together = Math.ceil(bars.length / MOST_WISHES);
  const count = Math.ceil(bars.length / together);
  const wishes = curve.length === 0 ? levelWishes(analysis, choices.level, count) : curve;
  return Array.from({ length: count }, (_, index) => {
    const first = Math.floor((index * bars.length) / count);
    const last = Math.max(first, Math.ceil(((index + 1) * bars.length) / count) - 1);
    const [from, to] = [bars[first], bars[last]];
    if (from === undefined || to === undefined) throw new RangeError('a form must have a bar for each point');
    return {
      fromBar: from.bar.number,
      toBar: to.bar.number,
      section: first === 0 || bars[first - 1]?.section.id !== from.section.id ? from.section.name : null,
      wish: wishes[Math.floor((index * wishes.length) / count)] ?? 0,
    };
  });
}

/**
 * Sets one point; the others stay as they are shown.
 * @param together changes with the same word are taken back as one
 */
export function setWish(lesson: Lesson, index: number, wish: number, together: string): void {
  // as it is now, not as it was last drawn on the screen: a pointer is quicker than that
  const points = curvePoints(lesson, $open.get()?.choices.curve ?? []);
  if (points[index] === undefined || points[index].wish === wish) return;
  const curve = points.map((point, at) => (at === index ? wish : point.wish));
  changeLesson({ choices: { curve }, together });
}

/** Gives the curve back to the level. */
export function takeCurveBack(): void {
  changeLesson({ choices: { curve: [] } });
}
