import * as v from 'valibot';

/** More lessons than a teacher's life has. */
const MOST = 100_000;

/** What a folder is called, at the longest. */
export const LONGEST_FOLDER_NAME = 40;

const id = v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/u));

/** How the lessons stand on the shelf. Ids of lessons that are gone may stand in it: they may be put back. */
export const SHELF_ARRANGEMENT = v.object({
  order: v.optional(v.picklist(['changed', 'title', 'hand']), 'changed'),
  /** Ids in the teacher's own order; those that are not in it come first. */
  byHand: v.optional(v.pipe(v.array(id), v.maxLength(MOST)), []),
  /** The folder of a lesson by its id; a folder is its name, and there as long as something is in it. */
  folders: v.optional(v.record(id, v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(LONGEST_FOLDER_NAME))), {}),
});
type Read = v.InferOutput<typeof SHELF_ARRANGEMENT>;
export interface ShelfArrangement {
  readonly order: Read['order'];
  readonly byHand: readonly string[];
  readonly folders: Readonly<Record<string, string>>;
}

export const PLAIN_ARRANGEMENT: ShelfArrangement = { order: 'changed', byHand: [], folders: {} };

/** Reads an arrangement that lay in the database or a backup; what is damaged counts as none: no lesson is lost by it. */
export function readArrangement(found: unknown): ShelfArrangement {
  const parsed = v.safeParse(SHELF_ARRANGEMENT, found);
  return parsed.success ? parsed.output : PLAIN_ARRANGEMENT;
}

/** The same of a text. */
export function arrangementOf(text: unknown): ShelfArrangement {
  if (typeof text !== 'string') return PLAIN_ARRANGEMENT;
  try {
    return readArrangement(JSON.parse(text));
  } catch {
    return PLAIN_ARRANGEMENT;
  }
}
