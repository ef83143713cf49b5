import type { Lesson, Midi, NoteName, Position, Shape } from '@fivespan/core';

/**
 * Signs behind a thumb's name that tell shapes apart where a lesson uses several: none for the one it uses most, then primes.
 * A thumb may stay on its key while the hand changes shape; the sign says so.
 */
const SIGNS = ['', '′', '″', '‴', '⁗'] as const;

/** Sign by a shape's id. */
export type ShapeMarks = ReadonlyMap<string, string>;

/** The shapes of a lesson's route, the one it uses most first; equals in the order the hand meets them. */
export function shapesOfRoute(lesson: Pick<Lesson, 'plan'>): Shape[] {
  const uses = new Map<string, { readonly shape: Shape; count: number }>();
  for (const { position } of lesson.plan.slots) {
    if (position === null) continue;
    const entry = uses.get(position.shape.id) ?? { shape: position.shape, count: 0 };
    entry.count++;
    uses.set(position.shape.id, entry);
  }
  return [...uses.values()].sort((a, b) => b.count - a.count).map(({ shape }) => shape);
}

/**
 * A sign for each shape of the route; from the fifth on they share the last, and captions tell them apart.
 * @param others shapes that a hand may take besides: their signs come after the route's
 */
export function shapeMarks(lesson: Pick<Lesson, 'plan'>, others: readonly Shape[] = []): ShapeMarks {
  const shapes = new Map([...shapesOfRoute(lesson), ...others].map((shape) => [shape.id, shape]));
  return new Map(
    [...shapes.values()].map((shape, index) => [shape.id, SIGNS[Math.min(index, SIGNS.length - 1)] as string]),
  );
}

/** The sign of a shape; none for shapes the route does not use. */
export function markOf(marks: ShapeMarks, shape: Shape): string {
  return marks.get(shape.id) ?? '';
}

/**
 * Signs behind a thumb's name that tell octaves apart, where a lesson has one name in several: from the middle one on,
 * outwards.
 */
const OCTAVE_SIGNS = { two: ['', '↑'], more: ['↓', '', '↑'] } as const;

/**
 * Sign by a thumb's key: `D` and `D↑`, or `D↓`, `D` and `D↑`. Keys whose name the route has in one octave alone have
 * none.
 */
export function octaveMarks(lesson: Lesson): ReadonlyMap<Midi, string> {
  const keysOf = new Map<NoteName, Set<Midi>>();
  for (const { position, thumbMidi } of lesson.plan.slots) {
    if (position === null || thumbMidi === null) continue;
    keysOf.set(position.thumb, (keysOf.get(position.thumb) ?? new Set()).add(thumbMidi));
  }
  return new Map(
    [...keysOf.values()].flatMap((keys) => {
      const signs = keys.size > 2 ? OCTAVE_SIGNS.more : keys.size === 2 ? OCTAVE_SIGNS.two : [''];
      return [...keys]
        .sort((a, b) => a - b)
        .map((key, index) => [key, signs[Math.min(index, signs.length - 1)] as string] as const);
    }),
  );
}

/**
 * What stands behind a thumb's name: the sign of its shape, and of its octave where the name alone does not tell it.
 */
export type PlaceMark = (position: Position, thumbMidi: Midi | null) => string;

/**
 * What stands behind the thumbs of a lesson's tabs.
 * On the second shape's higher place that is `′↑`.
 * @example placeMarks(lesson)(lesson.plan.slots[0]!.position!, null) // → ''
 */
export function placeMarks(lesson: Lesson): PlaceMark {
  const shapes = shapeMarks(lesson);
  const octaves = octaveMarks(lesson);
  return ({ shape }, thumbMidi) => markOf(shapes, shape) + (thumbMidi === null ? '' : (octaves.get(thumbMidi) ?? ''));
}

/**
 * The signs of the shapes at the score's thumbs, where the chorus has them, in their order.
 * @example tabMarksOf(lesson) // → ['', '′', …]
 */
export function tabMarksOf(lesson: Lesson): string[] {
  const markOf = placeMarks(lesson);
  return lesson.score.thumbs.map(({ startTicks }) => {
    const note = lesson.chorus.find((each) => each.startTicks === startTicks);
    return note === undefined ? '' : markOf(note.position, lesson.plan.slots[note.slotIndex]?.thumbMidi ?? null);
  });
}
