import { partOnStaff, type Lesson } from '@fivespan/core';
import { useEffect, useLayoutEffect, useMemo, useRef, type KeyboardEvent, type MouseEvent } from 'react';
import { flushSync } from 'react-dom';
import { tracedNote, type TracedNote } from '../../features/engraving/index.ts';
import { isSameSpot, noteHeard, sound, spotOf, type Spot } from '../../features/study/index.ts';
import { words } from '../words/index.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { noteTold, type Naming } from './note-told.ts';
import styles from './Systems.module.css';

/** A note that is written in several tied pieces is one note: its first piece stands for it (formats: note ids). */
const FIRST_PIECE = '[data-note$="-0"]';

function isFirstPiece(element: Element): boolean {
  return element.matches(FIRST_PIECE);
}

/** Sets an attribute that is not so yet: a system that was not drawn anew is not laid out anew either. */
function put(element: Element, name: string, value: string): void {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

/** The piece that stands for the note a piece belongs to; the piece itself where that one is not drawn. */
function firstPieceOf(piece: Element | null, box: Element | null): Element | null {
  const id = piece?.getAttribute('data-note')?.replace(/\d+$/u, '0');
  return box?.querySelector(`[data-note="${id}"]`) ?? piece;
}

interface SystemsProps {
  readonly systems: readonly string[];
  /** Null while the pictures are of an earlier lesson. */
  readonly lesson: Lesson | null;
  readonly isStale: boolean;
  readonly onPoint: (id: string | null) => void;
  readonly naming: Naming;
  /** Systems that are seen, by index; the others are there all the same, so that every note can be reached. */
  readonly shown: { readonly from: number; readonly to: number };
  readonly onShow: (system: number) => void;
  /** The note that is being changed: the focus stays with it when the pictures are drawn anew; null where notes are looked at. */
  readonly spot: Spot | null;
  /** Asked first with each key pressed on a note, while notes are changed. @returns whether it was meant for it */
  readonly onWriteKey: ((event: KeyboardEvent) => boolean) | null;
}

/** The engraved music, a system a picture. Each note says why it is there, to those who point at it and to those who step through. */
export function Systems({ systems, lesson, isStale, onPoint, naming, shown, onShow, spot, onWriteKey }: SystemsProps) {
  const box = useRef<HTMLDivElement>(null);
  const hasFocus = useRef(false);
  const wasWriting = useRef(false);

  // every note can be reached and says what it is; one of them is in the order of Tab
  useEffect(() => {
    if (lesson === null || systems.length === 0) return;
    let isFirst = true;
    for (const element of box.current?.querySelectorAll('[data-note]') ?? []) {
      const note = tracedNote(lesson, element.getAttribute('data-note') ?? '');
      if (note === undefined) continue;
      if (!isFirstPiece(element)) {
        put(element, 'aria-hidden', 'true');
        continue;
      }
      put(element, 'role', 'button');
      put(element, 'aria-label', `${words.study.notesOf[note.role]}, ${noteTold(lesson, note, naming).said}`);
      put(element, 'aria-keyshortcuts', HEAR_KEY);
      put(element, 'tabindex', isFirst ? '0' : '-1');
      isFirst = false;
    }
  }, [systems, lesson, naming]);

  const noteIn = (target: EventTarget): Element | null => (target as Element).closest('[data-note]');
  const traced = (element: Element | null): TracedNote | undefined =>
    element === null || lesson === null ? undefined : tracedNote(lesson, element.getAttribute('data-note') ?? '');
  const notesHeard = (element: Element | null) => {
    const note = traced(element);
    if (note === undefined || lesson === null) return [];
    const chord = lesson.plan.slots[note.slotIndex]?.analysed.chord ?? null;
    return noteHeard(chord, note.written.pitch, partOnStaff(note.role).instrument === 'acoustic bass');
  };
  const reveal = (element: Element): void => {
    const system = Number(element.closest<HTMLElement>('[data-system]')?.dataset['system']);
    if (system < shown.from || system >= shown.to) flushSync(() => onShow(system));
  };
  const goTo = (element: Element | undefined): void => {
    if (element === undefined) return;
    for (const each of box.current?.querySelectorAll('[data-note][tabindex="0"]') ?? []) {
      each.setAttribute('tabindex', '-1');
    }
    element.setAttribute('tabindex', '0');
    reveal(element);
    (element as SVGElement).focus({ preventScroll: spot !== null });
    // on a phone the tools stand over the window's foot: the line is to be above them
    if (spot !== null) element.closest('[data-system]')?.scrollIntoView({ block: 'nearest' });
  };
  // new pictures take the old ones' notes with them: the focus waits at the box, and goes to the note that is being changed
  useLayoutEffect(() => {
    const focused = box.current?.ownerDocument.activeElement ?? null;
    if (hasFocus.current && box.current?.contains(focused) === false) box.current.focus();
  }, [systems]);
  useEffect(() => {
    for (const each of box.current?.querySelectorAll('[data-spot]') ?? []) each.removeAttribute('data-spot');
    if (spot === null) wasWriting.current = false;
    if (spot === null || lesson === null) return;
    const to = [...(box.current?.querySelectorAll(FIRST_PIECE) ?? [])].find((element) => {
      const note = tracedNote(lesson, element.getAttribute('data-note') ?? '');
      return (
        note !== undefined &&
        note.written.startTicks === spot.startTicks &&
        isSameSpot(spotOf(lesson, note) ?? null, spot)
      );
    });
    if (to === undefined) return;
    to.setAttribute('data-spot', '');
    // whoever begins to change notes stands on one; who presses a button stays there
    const follows = !wasWriting.current || hasFocus.current;
    wasWriting.current = true;
    if (!follows) reveal(to);
    else if (to !== box.current?.ownerDocument.activeElement) goTo(to);
    // where the spot went, or what it stands in; the functions are made anew each time and do the same
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, [spot, lesson, systems]);
  const onKeyDown = (event: KeyboardEvent): void => {
    if (onWriteKey?.(event) === true) {
      event.preventDefault();
      return;
    }
    const here = noteIn(event.target);
    const note = traced(here);
    if (here === null || note === undefined || lesson === null) return;
    const all = [...(box.current?.querySelectorAll(FIRST_PIECE) ?? [])];
    const to = noteAfterKey(event.key, note, all, traced);
    if (to !== undefined) {
      event.preventDefault();
      goTo(to);
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      void sound(notesHeard(here));
    } else onHearKey(() => notesHeard(here))(event);
  };
  const html = useMemo(() => systems.map((svg) => ({ __html: svg })), [systems]);
  const idOf = (target: EventTarget): string | null => noteIn(target)?.getAttribute('data-note') ?? null;
  return (
    // the notes inside are the controls; this only hears what reaches it from them
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions
    <div
      ref={box}
      className={styles.systems}
      role="group"
      aria-labelledby="study-parts"
      aria-busy={isStale}
      tabIndex={-1}
      onKeyDown={onKeyDown}
      onFocus={(event) => {
        hasFocus.current = true;
        if (event.target !== event.currentTarget) onPoint(idOf(event.target));
      }}
      onBlur={({ relatedTarget, currentTarget, target }) => {
        // a note that is taken out of the page with its picture has not been left
        if (target.isConnected && !currentTarget.contains(relatedTarget)) hasFocus.current = false;
      }}
      onPointerOver={(event) => {
        const id = idOf(event.target);
        // while notes are changed, the one that is changed is told
        if (id !== null && spot === null) onPoint(id);
      }}
      onClick={(event) => {
        const note = firstPieceOf(nearestNote(event) ?? noteIn(event.target), box.current);
        if (note === null) return;
        goTo(note);
        void sound(notesHeard(note));
      }}
    >
      {html.map((each, index) => (
        <div
          key={index}
          className={styles.system}
          data-system={index}
          hidden={index < shown.from || index >= shown.to}
          dangerouslySetInnerHTML={each}
        />
      ))}
    </div>
  );
}

/** Of the notes whose grounds lie over one another where one clicks, the one whose head is nearest: notes of a chord do. */
function nearestNote({ target, clientX, clientY }: MouseEvent): Element | undefined {
  const under = (target as Element).ownerDocument.elementsFromPoint(clientX, clientY);
  const notes = new Set(under.flatMap((each) => each.closest('[data-note]') ?? []));
  const away = (note: Element): number => {
    const { x, y, width, height } = (note.querySelector('.notehead') ?? note).getBoundingClientRect();
    return Math.hypot(x + width / 2 - clientX, y + height / 2 - clientY);
  };
  return [...notes].toSorted((a, b) => away(a) - away(b))[0];
}

/** The engraved note that a key leads to: along the staff, or to what sounds with it on the other one. */
function noteAfterKey(
  key: string,
  note: TracedNote,
  all: readonly Element[],
  traced: (element: Element) => TracedNote | undefined,
): Element | undefined {
  const placed = all.flatMap((element) => {
    const each = traced(element);
    return each === undefined ? [] : [{ element, note: each }];
  });
  const ofStaff = placed
    .filter((each) => each.note.role === note.role)
    .sort((a, b) => a.note.written.startTicks - b.note.written.startTicks);
  const others = placed.filter((each) => each.note.role !== note.role);
  const at = ofStaff.findIndex((each) => each.note.written === note.written);
  switch (key) {
    case 'ArrowRight':
      return ofStaff[at + 1]?.element;
    case 'ArrowLeft':
      return ofStaff[at - 1]?.element;
    case 'Home':
      return ofStaff[0]?.element;
    case 'End':
      return ofStaff.at(-1)?.element;
    case 'PageUp':
    case 'PageDown':
    case 'ArrowUp':
    case 'ArrowDown': {
      const start = note.written.startTicks;
      const nearest = others.toSorted(
        (a, b) => Math.abs(a.note.written.startTicks - start) - Math.abs(b.note.written.startTicks - start),
      );
      return nearest[0]?.element;
    }
    default:
      return undefined;
  }
}
