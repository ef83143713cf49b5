import { useLayoutEffect, useRef, type RefObject } from 'react';
import { $focusAsked, beginEdit, chooseBar, endEdit, type BarEdit } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';

/** The focus of the bars: it follows the chosen bar where it was in the bars before. */
export interface GridFocus {
  /** Whether the focus follows the chosen bar after the next rendering. */
  readonly follow: (isFollowing: boolean) => void;
  readonly isFollowing: () => boolean;
  /** A bar is pressed, by mouse or finger, to be written: what is there is chosen, typing takes its place. */
  readonly press: (index: number, isByTouch: boolean) => void;
  /** Whether the bar that is written was chosen by a finger. */
  readonly isByTouch: () => boolean;
  readonly move: (index: number) => void;
  readonly write: (index: number, draft?: string) => void;
}

/**
 * @param current the chosen bar; as many as there are bars for the place of a new one
 * @param count of bars
 */
export function useGridFocus(
  grid: RefObject<HTMLElement | null>,
  edit: BarEdit | null,
  current: number,
  count: number,
): GridFocus {
  const takesFocus = useRef(false);
  const asked = useStore($focusAsked);
  const answered = useRef(asked);
  const isByTouch = useRef(false);
  const isPressed = useRef(false);
  const wasNew = useRef<boolean | null>(null);
  useLayoutEffect(() => {
    if (answered.current !== asked) takesFocus.current = true;
    answered.current = asked;
    // the field of a new bar becomes that of a bar with the first letter: another field, which goes on being typed into
    const isNew = edit === null ? null : edit.index >= count;
    if (isNew !== null && wasNew.current !== null && isNew !== wasNew.current) takesFocus.current = true;
    wasNew.current = isNew;
    if (!takesFocus.current) return;
    takesFocus.current = false;
    const cell = grid.current?.querySelector<HTMLElement>(`[data-bar="${edit?.index ?? current}"]`);
    const field = cell?.querySelector('input');
    if (field == null) cell?.focus();
    else if (!field.matches(':focus')) {
      field.focus();
      // a bar that was pressed is written anew, as one that is typed on; a second press puts the caret where one wants it
      field.setSelectionRange(isPressed.current ? 0 : field.value.length, field.value.length);
    }
    isPressed.current = false;
  });

  const move = (index: number): void => {
    takesFocus.current = true;
    endEdit();
    chooseBar(index);
  };
  const write = (index: number, draft?: string): void => {
    takesFocus.current = true;
    beginEdit(index, draft);
  };

  return {
    follow: (isFollowing) => {
      takesFocus.current = isFollowing;
    },
    isFollowing: () => takesFocus.current,
    press: (index, isTouch) => {
      isByTouch.current = isTouch;
      isPressed.current = true;
      write(index);
    },
    isByTouch: () => isByTouch.current,
    move,
    write,
  };
}
