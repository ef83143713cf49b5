import { appendBar, setBarChords } from '@fivespan/core';
import { atom } from 'nanostores';
import { $open, changeLesson, redo, undo, type OpenLesson } from '../open-lesson/index.ts';
import { $places, placesIn } from './page-view.ts';

/** Which bar is chosen; one past the last is where a new one is written. */
export const $chosenBar = atom(0);

/** A bar that is being written. */
export interface BarEdit {
  /** The lesson's: a field never outlives it. */
  readonly lessonId: string;
  readonly index: number;
  /** The text as it was before, how many bars it had, and what the bar held. */
  readonly base: string;
  readonly baseCount: number;
  readonly there: string;
  /** The text as the field has left it. Where it is another one now, it was changed from elsewhere. */
  readonly text: string;
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
  $barEdit.set(editOf(open, index));
  if (draft !== undefined) writeDraft(draft);
}

function editOf({ id, chartText }: OpenLesson, index: number): BarEdit {
  const there = chordsTextOf(chartText, index);
  const baseCount = placesIn(chartText).bars.length;
  return { lessonId: id, index, base: chartText, baseCount, there, text: chartText, draft: there, isKeptBack: false };
}

/** The field that is open, where it is of this lesson; its draft goes on from the text as it is now. */
function editNow(open: OpenLesson | null): BarEdit | null {
  const edit = $barEdit.get();
  if (edit === null || open === null || edit.lessonId !== open.id) return null;
  if (edit.text === open.chartText) return edit;
  // another tab has changed the text meanwhile: what it did stays, and taking back goes no further than here
  const baseCount = placesIn(open.chartText).bars.length;
  const index = Math.min(edit.index, baseCount);
  run++;
  return { ...editOf(open, index), draft: edit.draft };
}

/** The text with a bar's draft in it. */
function withDraft({ base, baseCount, there, index }: BarEdit, draft: string): string {
  if (index < baseCount) return draft === there ? base : setBarChords(base, index, draft);
  return draft.trim() === '' ? base : appendBar(base, draft);
}

/** Writes what stands in the field into the text. */
export function writeDraft(draft: string): void {
  const open = $open.get();
  const edit = editNow(open);
  if (edit === null || open === null) {
    endEdit();
    return;
  }
  const text = withDraft(edit, draft);
  const isAppended = edit.index >= edit.baseCount && text !== edit.base;
  // what would make two bars of one, or none, stays in the field
  const isKeptBack = placesIn(text).bars.length !== edit.baseCount + (isAppended ? 1 : 0);
  $barEdit.set({ ...edit, text: isKeptBack ? edit.text : text, draft, isKeptBack });
  if (!isKeptBack && text !== open.chartText) changeLesson({ chartText: text, together: `bar ${run}` });
}

/** Leaves the field. What is in the text stays there; a draft that was kept back from it is gone with the field. */
export function endEdit(): void {
  $barEdit.set(null);
}

// a field, and the choice of a bar, belong to the lesson they were made in
let lessonId = $open.get()?.id;
$open.listen((open) => {
  if (open?.id === lessonId) return;
  lessonId = open?.id;
  endEdit();
  $chosenBar.set(0);
});

/** Leaves the field; what was typed is taken back. */
export function cancelEdit(): void {
  const edit = editNow($open.get());
  $barEdit.set(null);
  if (edit === null) return;
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
  $barEdit.set(editOf(open, index));
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

/** Changes the chart's text by an edit of it. @returns whether anything changed */
export function changeText(edit: (text: string) => string, together?: string): boolean {
  const open = $open.get();
  if (open === null) return false;
  const chartText = edit(open.chartText);
  if (chartText === open.chartText) return false;
  endEdit();
  changeLesson(together === undefined ? { chartText } : { chartText, together });
  return true;
}
