import {
  beatAt,
  nextSeed,
  PARTS,
  partOnStaff,
  playedBarAt,
  stavesOf,
  typeset,
  type Lesson,
  type NoteName,
  type PartGroup,
  type Reason,
  type Score,
} from '@fivespan/core';
import { memo, useCallback, useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react';
import { $engraved, engrave, stopEngraving, tracedNote, type TracedNote } from '../../features/engraving/index.ts';
import { $open, changeLesson } from '../../features/open-lesson/index.ts';
import { noteHeard, sound } from '../../features/study/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { spokenPitch, spokenSigns, spokenSymbol } from '../words/spoken.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { useNamedReason } from './named-reason.ts';
import styles from './Parts.module.css';
import { useRoom } from '../keyboard/use-room.ts';

/** What is engraved together. */
const CHOICES = [...new Set(PARTS.map(({ group }) => group))];

/** Pixels of a page to the millimetre, as CSS has it. */
const PX_PER_MM = 96 / 25.4;
/** A staff's height where there is room, and on a phone. */
const STAFF_MM = { wide: 7, narrow: 5.6 };
const WIDE_PX = 600;

function sentence(text: string): string {
  return text === '' ? '' : `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`;
}

/** A note and why it is there, as printed and as said. */
interface Explained {
  readonly place: string;
  readonly why: string;
  readonly said: string;
}

/** Arguments of reasons that are chord symbols; the others are notes, degrees and words. */
const CHORDS: ReadonlySet<string> = new Set(['chord', 'into', 'toChord']);

/** A reason with its arguments in words. */
function spokenReason({ code, args }: Reason): Reason {
  const said = Object.entries(args).map(([name, value]) => [
    name,
    CHORDS.has(name) ? spokenSymbol(value) : spokenSigns(typeset(value)),
  ]);
  return { code, args: Object.fromEntries(said) as Reason['args'] };
}

/** How notes are named. */
interface Naming {
  readonly noteText: (note: NoteName) => string;
  readonly named: (reason: Reason) => Reason;
}

function explained(lesson: Lesson, { role, written, why }: TracedNote, { noteText, named }: Naming): Explained {
  const bar = playedBarAt(lesson.analysis.form, written.startTicks);
  const at = `${words.study.bar(bar.bar.number)}, ${words.study.beat(beatAt(bar, written.startTicks))}`;
  const note = noteText(written.pitch.name);
  const { octave } = written.pitch;
  const reason = named(why);
  const wordsOf = partOnStaff(role).words;
  return {
    place: words.study.note(at, `${note}${octave}`, written.finger),
    why: sentence(wordsOf(reason, note)),
    said: `${words.study.note(at, spokenPitch(note, octave), written.finger)}. ${sentence(wordsOf(spokenReason(reason), spokenSigns(note)))}`,
  };
}

/** A note that is written in several tied pieces is one note: its first piece stands for it (formats: note ids). */
const FIRST_PIECE = '[data-note$="-0"]';

function isFirstPiece(element: Element): boolean {
  return element.matches(FIRST_PIECE);
}

/** The piece that stands for the note a piece belongs to; the piece itself where that one is not drawn. */
function firstPieceOf(piece: Element | null, box: Element | null): Element | null {
  const id = piece?.getAttribute('data-note')?.replace(/\d+$/u, '0');
  return box?.querySelector(`[data-note="${id}"]`) ?? piece;
}

/** The note pointed at, in the score it was pointed at. */
interface Pointed {
  readonly id: string;
  readonly score: Score;
}

/** The written parts. Each note says why it is there, to those who point at it and to those who step through. */
export const Parts = memo(function Parts({ lesson }: { readonly lesson: Lesson }) {
  const [choice, setChoice] = useState<PartGroup>('piano');
  const engraved = useStore($engraved);
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  // widths differ by a pixel or two while a page is laid out: that is no reason to engrave anew
  const widthPx = room === null ? null : Math.floor(room.widthPx / 8) * 8;
  const [pointed, setPointed] = useState<Pointed | null>(null);

  const { score } = lesson;
  const noteText = useNoteText();
  const named = useNamedReason();
  const naming = useMemo(() => ({ noteText, named }), [noteText, named]);
  const onPoint = useCallback((id: string | null) => setPointed(id === null ? null : { id, score }), [score]);

  useEffect(() => stopEngraving, []);
  useEffect(() => {
    if (widthPx === null || widthPx < 160) return;
    void engrave({
      score: lesson.score,
      parts: stavesOf(choice),
      widthMm: Math.min(1000, widthPx / PX_PER_MM),
      staffHeightMm: widthPx >= WIDE_PX ? STAFF_MM.wide : STAFF_MM.narrow,
    });
  }, [lesson, choice, widthPx]);

  // the notes of the pictures are those of the score they were made of
  const isOfLesson = engraved !== null && engraved.score === lesson.score;
  const note =
    pointed === null || !isOfLesson || pointed.score !== lesson.score ? undefined : tracedNote(lesson, pointed.id);
  const told = note === undefined ? null : explained(lesson, note, naming);

  return (
    <section aria-labelledby="study-parts" className={styles.parts}>
      <h2 id="study-parts">{words.study.parts}</h2>
      <div className={styles.choices} role="group" aria-labelledby="study-parts">
        {CHOICES.map((each) => (
          <button key={each} type="button" aria-pressed={choice === each} onClick={() => setChoice(each)}>
            {words.study.partsChoice[each]}
          </button>
        ))}
        <button
          type="button"
          onClick={() => changeLesson({ choices: { seed: nextSeed(($open.get() ?? lesson).choices.seed) } })}
        >
          {words.study.anotherOne}
        </button>
        <span role="status" className={styles.state}>
          {engraved === null || engraved.state === 'busy'
            ? words.study.engraving
            : engraved.state === 'failed'
              ? words.study.engravingFailed
              : engraved.systems.length === 0
                ? words.study.nothingWritten
                : ''}
        </span>
      </div>
      <p className={styles.help}>{words.study.whyHelp}</p>
      <div ref={box}>
        {engraved !== null && (
          <Systems
            systems={engraved.systems}
            lesson={isOfLesson ? lesson : null}
            onPoint={onPoint}
            naming={naming}
            told={told}
            pointed={pointed?.id ?? null}
            isStale={!isOfLesson || engraved.state === 'busy'}
          />
        )}
      </div>
    </section>
  );
});

interface SystemsProps {
  readonly systems: readonly string[];
  /** Null while the pictures are of an earlier lesson. */
  readonly lesson: Lesson | null;
  readonly isStale: boolean;
  readonly onPoint: (id: string | null) => void;
  readonly naming: Naming;
  /** The note pointed at, and what is said about it. */
  readonly pointed: string | null;
  readonly told: Explained | null;
}

function Systems({ systems, lesson, isStale, onPoint, naming, pointed, told }: SystemsProps) {
  const box = useRef<HTMLDivElement>(null);

  // every note can be reached and says what it is; one of them is in the order of Tab
  useEffect(() => {
    if (lesson === null || systems.length === 0) return;
    let isFirst = true;
    for (const element of box.current?.querySelectorAll('[data-note]') ?? []) {
      const note = tracedNote(lesson, element.getAttribute('data-note') ?? '');
      if (note === undefined) continue;
      if (!isFirstPiece(element)) {
        element.setAttribute('aria-hidden', 'true');
        continue;
      }
      element.setAttribute('role', 'button');
      element.setAttribute('aria-label', `${words.study.notesOf[note.role]}, ${explained(lesson, note, naming).said}`);
      element.setAttribute('aria-keyshortcuts', HEAR_KEY);
      element.setAttribute('tabindex', isFirst ? '0' : '-1');
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
  const goTo = (element: Element | undefined): void => {
    if (element === undefined) return;
    for (const each of box.current?.querySelectorAll('[data-note][tabindex="0"]') ?? []) {
      each.setAttribute('tabindex', '-1');
    }
    element.setAttribute('tabindex', '0');
    (element as SVGElement).focus();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
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
      onKeyDown={onKeyDown}
      onFocus={(event) => onPoint(idOf(event.target))}
      onPointerOver={(event) => {
        const id = idOf(event.target);
        if (id !== null) onPoint(id);
      }}
      onClick={(event) => {
        const note = firstPieceOf(noteIn(event.target), box.current);
        if (note === null) return;
        goTo(note);
        void sound(notesHeard(note));
      }}
    >
      {html.map((each, index) => (
        <div key={index} className={styles.line}>
          <div className={styles.system} dangerouslySetInnerHTML={each} />
          {told !== null && systems[index]?.includes(`data-note="${pointed}"`) === true && (
            // the note itself says the same to a screen reader
            <p className={styles.why} aria-hidden="true">
              <span className={styles.place}>{told.place}</span> <span className={styles.because}>{told.why}</span>
            </p>
          )}
        </div>
      ))}
    </div>
  );
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
