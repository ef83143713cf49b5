import { useState, type KeyboardEvent, type RefObject } from 'react';
import {
  $page,
  cancelEdit,
  chooseBar,
  emptyBar,
  endEdit,
  newBarAfter,
  redoChange,
  takeBarOut,
  undoChange,
} from '../../features/chart-editing/index.ts';
import { words } from '../words/index.ts';
import { barBeside, barOf, edgeOfLine } from './grid-places.ts';
import type { GridFocus } from './use-grid-focus.ts';

const w = words.chart;

/** How many bars there are now: a change may just have been made. */
function barsNow(): number {
  return $page.get().bars.length;
}

/** The keys of the bars: moving, writing, putting in, taking out, and leaving by Tab. */
export interface GridKeys {
  readonly takeKey: (event: KeyboardEvent) => void;
  /** The focus has left the bars. */
  readonly hasLeft: () => void;
}

/** @param say says what was done, to those who hear the screen */
export function useGridKeys(
  grid: RefObject<HTMLElement | null>,
  { follow, isByTouch, move, write }: GridFocus,
  say: (text: string) => void,
): GridKeys {
  /** After Escape, Tab leaves the bars instead of going to the next. */
  const [isLeaving, setIsLeaving] = useState(false);

  /** Keys that do the same whether a bar is written or only chosen. @returns whether the key was one of them */
  const takeEitherKey = (event: KeyboardEvent, index: number): boolean => {
    const { key, shiftKey } = event;
    const isCommand = event.ctrlKey || event.metaKey;
    follow(true);
    if (isCommand && (key === 'z' || key === 'Z')) {
      if (shiftKey) redoChange();
      else undoChange();
      say(shiftKey ? w.said.redone : w.said.undone);
    } else if (isCommand && (key === 'y' || key === 'Y')) {
      redoChange();
      say(w.said.redone);
    } else if (isCommand && key === 'Enter') {
      newBarAfter(index);
      say(w.said.barIn);
    } else if (key === 'Tab' && !isCommand && !event.altKey) {
      const next = index + (shiftKey ? -1 : 1);
      // at either end, and after Escape, Tab does what it does everywhere
      if (isLeaving || next < 0 || next > barsNow()) {
        follow(false);
        endEdit();
        return true;
      }
      move(next);
    } else if (key === '|') move(index + 1);
    else if (key === 'ArrowUp' || key === 'ArrowDown') {
      if (isCommand || event.altKey) {
        // the browser's own, or nobody's
        follow(false);
        return false;
      }
      const next = grid.current === null ? null : barBeside(grid.current, index, key === 'ArrowDown');
      move(next ?? index);
    } else {
      follow(false);
      return false;
    }
    event.preventDefault();
    return true;
  };

  const takeFieldKey = (event: KeyboardEvent, index: number, field: HTMLInputElement): void => {
    const { key } = event;
    if (event.nativeEvent.isComposing || takeEitherKey(event, index)) return;
    const isPlain = !event.ctrlKey && !event.metaKey && !event.altKey && !event.shiftKey;
    const isAlone = field.selectionStart === field.selectionEnd;
    if (key === 'Enter') {
      // a keyboard on the screen has no Tab: its key for going on does that
      if (isByTouch() && index < barsNow()) write(index + 1);
      else move(index);
    } else if (key === 'Escape') {
      follow(true);
      cancelEdit();
      chooseBar(index);
    } else if (isPlain && key === 'ArrowRight' && isAlone && field.selectionEnd === field.value.length) move(index + 1);
    else if (isPlain && key === 'ArrowLeft' && isAlone && field.selectionStart === 0) move(index - 1);
    else return;
    event.preventDefault();
  };

  const takeCellKey = (event: KeyboardEvent, index: number): void => {
    const { key } = event;
    if (takeEitherKey(event, index)) return;
    const isCommand = event.ctrlKey || event.metaKey;
    if (key === 'Escape') {
      setIsLeaving(true);
      return;
    }
    if (key === 'ArrowRight') move(index + 1);
    else if (key === 'ArrowLeft') move(index - 1);
    else if (key === 'Home') move(isCommand ? 0 : edgeOfLine(grid.current, index, 'first'));
    else if (key === 'End') move(isCommand ? barsNow() : edgeOfLine(grid.current, index, 'last'));
    else if (key === 'Enter' || key === 'F2') write(index);
    else if ((key === 'Delete' || key === 'Backspace') && isCommand) {
      follow(true);
      takeBarOut(index);
      say(w.said.barOut);
    } else if (key === 'Delete' || key === 'Backspace') {
      follow(true);
      emptyBar(index);
    } else if (key.length === 1 && key !== ' ' && !isCommand && !event.altKey) write(index, key);
    else return;
    event.preventDefault();
  };

  const takeKey = (event: KeyboardEvent): void => {
    const index = barOf(event.target);
    // a button in a bar is pressed with the keys of all buttons
    if (index === null || event.target instanceof HTMLButtonElement) return;
    if (event.key !== 'Tab' && event.key !== 'Escape' && event.key !== 'Shift' && isLeaving) setIsLeaving(false);
    if (event.target instanceof HTMLInputElement) takeFieldKey(event, index, event.target);
    else takeCellKey(event, index);
  };

  return { takeKey, hasLeft: () => setIsLeaving(false) };
}
