import { appendBar, setBarChords } from '@fivespan/core';
import { atom } from 'nanostores';
import { $open, changeLesson, redo, undo } from '../open-lesson/index.ts';
import { $places, placesIn } from './page-view.ts';

/** Which bar is chosen; one past the last is where a new one is written. */
export const $chosenBar = atom(0);

/** A bar that is being written. */
export interface BarEdit {
  readonly index: number;
  /** The text as it was before, how many bars it had, and what the bar held. */
  readonly base: string;
  readonly baseCount: number;
  readonly there: string;
  /** What stands in the field. */
  readonly draft: string;
  /** A draft that is no bar's content is kept back from the text. */
  readonly isKeptBack: boolean;
}

export const $barEdit = atom<BarEdit | null>(null);

/** Rises whenever the bar that is written, or chosen, asks for the focus: from a button outside the bars. */
export const $focusAsked = atom(0);

/** Asks for the focus to go to the bar that is written, or chosen. */
export function askForFocus(): void {
  $focusAsked.set($focusAsked.get() + 1);
}

/** Numbers runs of typing, so that each is undone by itself. */
let run = 0;

/** How many bars there are. */
export function barCount(): number {
  return $places.get().bars.length;
}

/** Chooses a bar, or the place for a new one. */
export function chooseBar(index: number): void {
  const most = barCount();
  $chosenBar.set(Math.max(0, Math.min(index, most)));
}

/** What a bar's field holds: its chords as they are written. */
export function chordsTextOf(text: string, index: number): string {
  const chords = placesIn(text).bars[index]?.chords;
  return chords === undefined ? '' : text.slice(chords.start, chords.end);
}

/**
 * Begins to write a bar.
 * @param draft what is typed in place of what is there; undefined to go on with that
 */
export function beginEdit(index: number, draft?: string): void {
  const open = $open.get();
  if (open === null) return;
  chooseBar(index);
  run++;
  $barEdit.set(editOf(open.chartText, index));
  if (draft !== undefined) writeDraft(draft);
}

function editOf(base: string, index: number): BarEdit {
  const there = chordsTextOf(base, index);
  return { index, base, baseCount: barCount(), there, draft: there, isKeptBack: false };
}

/** The text with a bar's draft in it. */
function withDraft({ base, baseCount, there, index }: BarEdit, draft: string): string {
  if (index < baseCount) return draft === there ? base : setBarChords(base, index, draft);
  return draft.trim() === '' ? base : appendBar(base, draft);
}

/** Writes what stands in the field into the text. */
export function writeDraft(draft: string): void {
  const edit = $barEdit.get();
  const open = $open.get();
  if (edit === null || open === null) return;
  const text = withDraft(edit, draft);
  const isAppended = edit.index >= edit.baseCount && text !== edit.base;
  // what would make two bars of one, or none, stays in the field
  const isKeptBack = placesIn(text).bars.length !== edit.baseCount + (isAppended ? 1 : 0);
  $barEdit.set({ ...edit, draft, isKeptBack });
  if (!isKeptBack && text !== open.chartText) changeLesson({ chartText: text, together: `bar ${run}` });
}

/** Leaves the field; what was typed stays. */
export function endEdit(): void {
  $barEdit.set(null);
}

/** Leaves the field; what was typed is taken back. */
export function cancelEdit(): void {
  const edit = $barEdit.get();
  if (edit === null) return;
  $barEdit.set(null);
  if ($open.get()?.chartText !== edit.base) undo();
  if ($open.get()?.chartText !== edit.base) changeLesson({ chartText: edit.base });
}

function goOnAfter(change: () => void): void {
  const edit = $barEdit.get();
  change();
  const open = $open.get();
  if (edit === null || open === null) {
    chooseBar($chosenBar.get());
    return;
  }
  run++;
  const index = Math.min(edit.index, barCount());
  $barEdit.set(editOf(open.chartText, index));
  chooseBar(index);
}

/** Takes the last change back; a field that is open shows what is there then. */
export function undoChange(): void {
  goOnAfter(undo);
}

/** Makes a change again that was taken back. */
export function redoChange(): void {
  goOnAfter(redo);
}
