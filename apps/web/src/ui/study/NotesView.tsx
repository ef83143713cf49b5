import { nextSeed, PARTS, stavesOf, type Lesson, type PartGroup, type Score } from '@fivespan/core';
import { tabMarksOf } from '@fivespan/formats/diagram';
import { memo, useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'react';
import {
  $engraved,
  engrave,
  stopEngraving,
  tracedNote,
  type EngravedLine,
  type EngravedParts,
} from '../../features/engraving/index.ts';
import { $open, changeLesson } from '../../features/open-lesson/index.ts';
import {
  $isWriting,
  $spot,
  $study,
  isSameSpot,
  setWriting,
  sound,
  spotOf,
  stretchHeard,
  type WritablePart,
} from '../../features/study/index.ts';
import { Drawn } from '../controls/Drawn.tsx';
import { OneOf } from '../controls/OneOf.tsx';
import { SoundSign } from '../controls/SoundSign.tsx';
import { useRoom } from '../keyboard/use-room.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { useNamedReason } from './named-reason.ts';
import { DrillBars } from './DrillBars.tsx';
import { NotePanel } from './NotePanel.tsx';
import { Phrases } from './Phrases.tsx';
import styles from './NotesView.module.css';
import { systemSpans, type SystemSpan } from './system-spans.ts';
import { Systems } from './Systems.tsx';
import { onWriteKey, useMidiWriting, WritingTools } from './WritingTools.tsx';

/** What is engraved together. */
const CHOICES = [...new Set(PARTS.map(({ group }) => group))];

/** Which part of a group is written first; chords in thirds are all the hand's position has, and are left as they are. */
const WRITTEN_FIRST: Readonly<Record<PartGroup, WritablePart | null>> = {
  piano: 'chorus',
  study: null,
  voicings: 'voicings',
};

/** Pixels of a page to the millimetre, as CSS has it. */
const PX_PER_MM = 96 / 25.4;
/** A staff's height where there is room, and on a phone. */
const STAFF_MM = { wide: 8.4, narrow: 5.6 };
const WIDE_PX = 600;
const NO_SYSTEMS: readonly string[] = [];

/** The note pointed at, in the score it was pointed at. */
interface Pointed {
  readonly id: string;
  readonly score: Score;
}

/** A picture's height to its width; engraved pictures say it. */
function aspectOf(svg: string | undefined): number {
  const [, width, height] = /viewBox="[\d.-]+ [\d.-]+ ([\d.]+) ([\d.]+)"/u.exec(svg ?? '') ?? [];
  return width === undefined || height === undefined ? 0.2 : Number(height) / Number(width);
}

/** The written parts from the line on that the chosen chord is in, and why each note is there. */
export const NotesView = memo(function NotesView({
  lesson,
  chosen,
}: {
  readonly lesson: Lesson;
  /** Index of the chosen chord in the form. */
  readonly chosen: number;
}) {
  const [choice, setChoice] = useState<PartGroup>('piano');
  const engraved = useStore($engraved);
  const box = useRef<HTMLDivElement>(null);
  const tall = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const heightPx = useRoom(tall)?.heightPx ?? 0;
  // widths differ by a pixel or two while a page is laid out: that is no reason to engrave anew
  const widthPx = room === null ? null : Math.floor(room.widthPx / 8) * 8;
  const [pointed, setPointed] = useState<Pointed | null>(null);
  const [turned, setTurned] = useState<{ readonly chosen: number; readonly system: number } | null>(null);

  const { score } = lesson;
  const noteText = useNoteText();
  const named = useNamedReason();
  const naming = useMemo(() => ({ noteText, named }), [noteText, named]);
  const isWriting = useStore($isWriting);
  const spot = useStore($spot);
  const study = useStore($study);
  const onPoint = useCallback(
    (id: string | null) => {
      setPointed(id === null ? null : { id, score });
      const pointedAt = id === null ? undefined : tracedNote(lesson, id);
      const spot = pointedAt === undefined ? undefined : spotOf(lesson, pointedAt);
      if ($isWriting.get() && spot !== undefined && !isSameSpot($spot.get(), spot)) $spot.set(spot);
    },
    [score, lesson],
  );
  useMidiWriting(isWriting);
  useEffect(() => () => setWriting(false), []);

  const lines = useRef<Lines | null>(null);
  useEffect(() => stopEngraving, []);
  const asked = useRef<{ readonly score: Score; readonly choice: PartGroup; readonly widthPx: number } | null>(null);
  // before the page is painted: whoever changed a note waits for its picture
  useLayoutEffect(() => {
    if (widthPx === null || widthPx < 160) return;
    const now = $engraved.get();
    const last = asked.current;
    const isAsked = last?.score === score && last.choice === choice && last.widthPx === widthPx;
    // lines that were drawn by themselves are laid out with the others when notes are changed no more
    if (isAsked && (isWriting || now?.isPatched !== true)) return;
    asked.current = { score, choice, widthPx };
    const shown =
      isWriting && last?.choice === choice && now !== null ? linesOf(lines.current, now.score, widthPx) : null;
    void engrave({
      score,
      parts: stavesOf(choice),
      widthMm: Math.min(1000, widthPx / PX_PER_MM),
      staffHeightMm: widthPx >= WIDE_PX ? STAFF_MM.wide : STAFF_MM.narrow,
      thumbMarks: tabMarksOf(lesson),
      ...(shown === null ? {} : { lines: shown }),
    });
  }, [lesson, score, choice, widthPx, isWriting]);

  // the notes of the pictures are those of the score they were made of
  const isOfLesson = engraved !== null && engraved.score === score;
  const systems = engraved?.systems ?? NO_SYSTEMS;
  const spans = useMemo(() => (isOfLesson ? systemSpans(lesson, systems) : []), [isOfLesson, lesson, systems]);
  useEffect(() => {
    if (isOfLesson && widthPx !== null) lines.current = { score, spans, widthPx };
  }, [isOfLesson, score, spans, widthPx]);
  const startTicks = lesson.plan.slots[chosen]?.analysed.played.startTicks ?? 0;
  const own = Math.max(
    0,
    spans.findLastIndex((each) => each.startTicks <= startTicks),
  );
  const atOnce = Math.max(1, Math.floor(heightPx / Math.max(1, (widthPx ?? 1) * aspectOf(systems[0]))));
  const first = Math.min(turned?.chosen === chosen ? turned.system : own, Math.max(0, systems.length - 1));
  const shown = { from: first, to: Math.min(systems.length, first + atOnce) };
  const written = WRITTEN_FIRST[choice];
  const isPointed = pointed !== null && isOfLesson && pointed.score === score;
  const note = isPointed ? tracedNote(lesson, pointed.id) : undefined;
  return (
    <section aria-labelledby="study-parts">
      <h2 id="study-parts" className="unseen">
        {words.study.parts}
      </h2>
      <div className={styles.head}>
        <OneOf
          label={words.study.partsWhich}
          choices={CHOICES}
          textOf={(each) => words.study.partsChoice[each]}
          value={choice}
          onChange={(group) => {
            setChoice(group);
            const part = WRITTEN_FIRST[group];
            if (isWriting) setWriting(part !== null, part === null ? null : { part, startTicks });
          }}
        />
        <Turn
          lesson={lesson}
          spans={spans}
          shown={shown}
          onTurn={(system) => setTurned({ chosen, system: Math.max(0, Math.min(system, systems.length - 1)) })}
        />
      </div>
      <div ref={box} className={styles.box}>
        <div ref={tall} className={styles.tall} />
        {engraved !== null && systems.length > 0 && (
          <Systems
            systems={systems}
            lesson={isOfLesson ? lesson : null}
            onPoint={onPoint}
            naming={naming}
            isStale={!isOfLesson || engraved.state === 'busy'}
            shown={shown}
            onShow={(system) => setTurned({ chosen, system })}
            spot={isWriting ? spot : null}
            onWriteKey={isWriting ? onWriteKey : null}
          />
        )}
        <State engraved={engraved} />
      </div>
      <div className={styles.acts}>
        <button
          type="button"
          className="plain"
          aria-pressed={isWriting}
          disabled={written === null}
          onClick={() => written !== null && setWriting(!isWriting, { part: written, startTicks })}
        >
          {words.study.writing.change}
        </button>
        <button
          type="button"
          className="plain"
          onClick={() => changeLesson({ choices: { seed: nextSeed(($open.get() ?? lesson).choices.seed) } })}
        >
          {words.study.anotherOne}
        </button>
        <DrillBars lesson={lesson} chosen={chosen} />
        {study !== null && <Phrases study={study} />}
      </div>
      {isWriting && study !== null && <WritingTools study={study} naming={naming} />}
      {systems.length > 0 && !isWriting && <NotePanel lesson={lesson} note={note} naming={naming} />}
    </section>
  );
});

/** The lines that are shown, of which score, and how wide. */
interface Lines {
  readonly score: Score;
  readonly spans: readonly SystemSpan[];
  readonly widthPx: number;
}

/** The lines that are shown, as the engraver draws them one by one; null where they are of another score or width. */
function linesOf(lines: Lines | null, shown: Score, widthPx: number): readonly EngravedLine[] | null {
  if (lines?.score !== shown || lines.widthPx !== widthPx) return null;
  const { bars } = lines.score;
  return lines.spans.map(({ startTicks, endTicks }) => {
    const from = bars.findIndex((bar) => bar.startTicks >= startTicks);
    const next = bars.findIndex((bar) => bar.startTicks >= endTicks);
    return { bars: { from, to: next < 0 ? bars.length : next }, startTicks, endTicks };
  });
}

/** What is to be said while there is nothing to be seen. */
function State({ engraved }: { readonly engraved: EngravedParts | null }) {
  const isEmpty = engraved === null || engraved.systems.length === 0;
  const text =
    engraved === null || engraved.state === 'busy'
      ? words.study.engraving
      : engraved.state === 'failed'
        ? words.study.engravingFailed
        : isEmpty
          ? words.study.nothingWritten
          : '';
  if (isEmpty || engraved.state === 'failed') {
    return (
      <Drawn picture={engraved?.state === 'failed' ? 'broken' : 'rest'}>
        <p role="status">{text}</p>
      </Drawn>
    );
  }
  return (
    <p role="status" className="unseen">
      {text}
    </p>
  );
}

interface TurnProps {
  readonly lesson: Lesson;
  readonly spans: readonly SystemSpan[];
  readonly shown: { readonly from: number; readonly to: number };
  readonly onTurn: (system: number) => void;
}

/** The lines before and after those that are seen, and hearing these. */
function Turn({ lesson, spans, shown, onTurn }: TurnProps) {
  const [first, last] = [spans[shown.from], spans[shown.to - 1]];
  if (first === undefined || last === undefined) return null;
  const count = shown.to - shown.from;
  const bars = words.study.barsSeen(first.fromBar, last.toBar);
  return (
    <div className={styles.turn}>
      <button
        type="button"
        className="main"
        onClick={() => void sound(stretchHeard(lesson, first.startTicks, last.endTicks))}
      >
        <SoundSign /> {words.study.hear} {bars}
      </button>
      <button type="button" disabled={shown.from === 0} onClick={() => onTurn(shown.from - count)}>
        {words.study.earlier}
      </button>
      <span className="unseen" role="status">
        {bars}
      </span>
      <button type="button" disabled={shown.to >= spans.length} onClick={() => onTurn(shown.from + count)}>
        {words.study.later}
      </button>
    </div>
  );
}
