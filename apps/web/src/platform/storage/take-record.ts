/** What is kept of a take, as it is in the database and in a backup. */
import * as v from 'valibot';

/** A hundred remarks of a page each are more than anybody reads. */
const MOST_REMARKS = 2_000;
const LONGEST_REMARK = 4_000;

const text = v.pipe(v.string(), v.maxLength(1000));

const HEAD = v.object({
  id: v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/u)),
  lessonId: text,
  title: v.pipe(v.string(), v.maxLength(10_000)),
  /** As in `Eb major`. */
  key: v.pipe(v.string(), v.maxLength(20)),
  tempoBpm: v.pipe(v.number(), v.minValue(1), v.maxValue(1000)),
  /** When it was begun: milliseconds since 1970. */
  at: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(8.64e15)),
  state: v.picklist(['recording', 'not kept', 'kept']),
  /** Whether it was offered once already after the page had ended without a word. */
  isOffered: v.optional(v.boolean(), false),
  /** The teacher's own, by bar as counted on paper. */
  remarks: v.pipe(
    v.array(
      v.object({
        bar: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(100_000)),
        text: v.pipe(v.string(), v.maxLength(LONGEST_REMARK)),
      }),
    ),
    v.maxLength(MOST_REMARKS),
  ),
  /** The take as core writes it; while it is recorded, without notes. */
  take: v.pipe(v.string(), v.maxLength(12_000_000)),
});
/** A take with all that is kept of it. The text of the take is judged by whoever reads it. */
export type TakeRecord = v.InferOutput<typeof HEAD>;

/** A record as it was found; null where it is damaged. */
export function readRecord(found: unknown): TakeRecord | null {
  const read = v.safeParse(HEAD, found);
  return read.success ? read.output : null;
}
