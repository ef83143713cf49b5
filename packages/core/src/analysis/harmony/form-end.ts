import type { Form } from '../../chart/index.ts';

/** What sections that do not belong to the form are called, abbreviated (`I1`) or in full. Common practice. */
const INTERLUDE = /^(?:i\d+|intro.*|interlude.*)$/iu;

/**
 * The slot after the last of the form proper: an interlude or introduction that is written after it leads to another chorus
 * and is not its end. All slots where nothing else is longer.
 */
export function endOfForm(form: Form): number {
  const isAppended = (index: number): boolean => {
    const name = form.slots[index]?.playedBar.section.name ?? '';
    return INTERLUDE.test(name);
  };
  let end = form.slots.length;
  while (end > 0 && isAppended(end - 1)) end--;
  return end * 2 < form.slots.length ? form.slots.length : end;
}
