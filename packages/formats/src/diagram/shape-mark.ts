import type { Lesson, Shape } from '@fivespan/core';

/**
 * Signs behind a thumb's name that tell shapes apart where a lesson uses several: none for the one it uses most, then primes.
 * A thumb may stay on its key while the hand changes shape; the sign says so.
 */
const SIGNS = ['', '′', '″', '‴', '⁗'] as const;

/** Sign by a shape's id. */
export type ShapeMarks = ReadonlyMap<string, string>;

/** The shapes of a lesson's route, the one it uses most first; equals in the order the hand meets them. */
export function shapesOfRoute(lesson: Lesson): Shape[] {
  const uses = new Map<string, { readonly shape: Shape; count: number }>();
  for (const { position } of lesson.plan.slots) {
    if (position === null) continue;
    const entry = uses.get(position.shape.id) ?? { shape: position.shape, count: 0 };
    entry.count++;
    uses.set(position.shape.id, entry);
  }
  return [...uses.values()].sort((a, b) => b.count - a.count).map(({ shape }) => shape);
}

/** A sign for each shape of the route; from the fifth on they share the last, and captions tell them apart. */
export function shapeMarks(lesson: Lesson): ShapeMarks {
  return new Map(
    shapesOfRoute(lesson).map((shape, index) => [shape.id, SIGNS[Math.min(index, SIGNS.length - 1)] as string]),
  );
}

/** The sign of a shape; none for shapes the route does not use. */
export function markOf(marks: ShapeMarks, shape: Shape): string {
  return marks.get(shape.id) ?? '';
}
