/** A silence at least this long parts two phrases: a quarter note. Our own. */
export const PHRASE_GAP_TICKS = 960;

/** Fewer notes than this are no phrase. Source: p10 of notes a phrase, Weimar data package (C). */
export const SHORTEST_PHRASE_NOTES = 4;

/** Anything that sounds from one tick to another. */
interface Sounding {
  readonly startTicks: number;
  readonly durationTicks: number;
}

/**
 * The phrases of a line: its notes, parted wherever it breathes for a quarter or longer.
 * @param notes in time order
 */
export function phrasesOf<Note extends Sounding>(notes: readonly Note[]): Note[][] {
  const phrases: Note[][] = [];
  let endTicks = Number.NEGATIVE_INFINITY;
  for (const note of notes) {
    if (note.startTicks - endTicks >= PHRASE_GAP_TICKS) phrases.push([]);
    phrases.at(-1)?.push(note);
    endTicks = note.startTicks + note.durationTicks;
  }
  return phrases;
}
