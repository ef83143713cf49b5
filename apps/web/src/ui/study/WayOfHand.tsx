import { midi, typeset, type Midi, type PlannedSlot } from '@fivespan/core';
import { markOf } from '@fivespan/formats/diagram';
import { memo, useEffect, useId, useMemo, useRef, useState, type KeyboardEvent } from 'react';
import {
  $shapeMarks,
  $walkSounds,
  $walkView,
  chooseSlot,
  nameOf,
  startWalk,
  stopWalk,
  stretchHeard,
  walkTo,
  type WalkView,
} from '../../features/study/index.ts';
import { stretchAround, WHOLE_STRETCH } from '../keyboard/stretch.ts';
import { rowsForTabs } from '../keyboard/tab-rows.ts';
import { TravelKeyboard } from '../keyboard/TravelKeyboard.tsx';
import { useTheme } from '../shell/use-theme.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { spokenChord, spokenSigns } from '../words/spoken.ts';
import { useThumbText } from '../words/thumb-name.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { useRoom } from '../keyboard/use-room.ts';
import styles from './WayOfHand.module.css';

/** Below this width, in letters' heights, two octaves are shown. */
const WIDE_EM = 34;

/** A slot's step of the way, said. */
function useStepWords(): (slot: PlannedSlot) => string {
  const noteText = useNoteText();
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  return ({ analysed, position, chordScale }) => {
    const { played } = analysed;
    const bar = words.study.bar(played.playedBar.bar.number);
    const place = played.beat > 1 ? `${bar}, ${words.study.beat(played.beat)}` : bar;
    const hand =
      position === null || chordScale === null
        ? words.study.nowhere
        : words.study.stepHand(
            thumbText.said(position.thumb, markOf(marks, position.shape)),
            spokenSigns(typeset(chordScale.name)),
            position.notes.map((note) => spokenSigns(noteText(note))),
          );
    return words.study.step(place, spokenChord(played.slot.chord), hand);
  };
}

/** The hand's way through the whole form: walked in time, stepped through, and in words. */
export const WayOfHand = memo(function WayOfHand() {
  const view = useStore($walkView);
  useEffect(() => stopWalk, []);
  return view === null ? null : <Way view={view} />;
});

function Way({ view }: { readonly view: WalkView }) {
  const { lesson, index, isWalking, now, next } = view;
  const sounds = useStore($walkSounds);
  const theme = useTheme();
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const stepWords = useStepWords();
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  const id = useId();
  const { slots } = lesson.plan;
  const isNarrow = room !== null && room.widthEm < WIDE_EM;
  const stretch = useMemo(() => {
    if (!isNarrow) return WHOLE_STRETCH;
    const keys = slots.flatMap(({ thumbMidi }) => (thumbMidi === null ? [] : [thumbMidi]));
    return stretchAround(midi(Math.min(60, ...keys)) as Midi);
  }, [isNarrow, slots]);
  const tabRows = useMemo(
    () =>
      rowsForTabs(
        slots.flatMap(({ thumbMidi }) => (thumbMidi === null ? [] : [thumbMidi])),
        marks.size > 1,
      ),
    [slots, marks],
  );
  const { played } = now.analysed;
  const toggle = (): void => (isWalking ? stopWalk() : void startWalk());
  const hear = onHearKey(() => stretchHeard(lesson, played.startTicks, played.endTicks));
  const onKeyDown = (event: KeyboardEvent): void => {
    // on the slider, which has no use for it
    if (event.key === ' ' && event.target instanceof HTMLInputElement && event.target.type === 'range') {
      event.preventDefault();
      toggle();
    } else hear(event);
  };
  return (
    <section aria-labelledby={`${id}-way`} className={styles.way}>
      <h2 id={`${id}-way`} className="unseen">
        {words.study.route}
      </h2>
      <div className={styles.controls}>
        <button type="button" className="main" onClick={toggle} onKeyDown={onKeyDown}>
          {isWalking ? words.study.stop : words.study.start}
        </button>
        <button type="button" disabled={index === 0} onClick={() => walkTo(index - 1)} onKeyDown={onKeyDown}>
          {words.study.back}
        </button>
        <button
          type="button"
          disabled={index === slots.length - 1}
          onClick={() => walkTo(index + 1)}
          onKeyDown={onKeyDown}
        >
          {words.study.forward}
        </button>
        <label className={styles.sound}>
          <input
            type="checkbox"
            checked={sounds}
            onChange={(event) => {
              stopWalk();
              $walkSounds.set(event.target.checked);
            }}
          />{' '}
          {words.study.withSound}
        </label>
        <div className={styles.now} aria-hidden="true">
          <span className={styles.chord}>
            <ChordName chord={played.slot.chord} />
          </span>
          <span data-bar-now>
            {words.study.bar(played.playedBar.bar.number)}
            {now.chordScale !== null && `, ${typeset(now.chordScale.name)}`}
          </span>
          <span className={styles.next}>
            {next?.position !== null && next !== null && (
              <>
                {words.study.thumbNext}: {thumbText.printed(next.position.thumb, markOf(marks, next.position.shape))},{' '}
                {words.study.bar(next.analysed.played.playedBar.bar.number)}
              </>
            )}
          </span>
        </div>
      </div>
      <div ref={box} className={styles.stage}>
        <TravelKeyboard
          {...stretch}
          tabRows={tabRows}
          theme={theme}
          hand={
            now.position === null || now.thumbMidi === null
              ? null
              : { position: now.position, thumbMidi: now.thumbMidi, mark: markOf(marks, now.position.shape) }
          }
          next={
            next === null || next.position === null || next.thumbMidi === null
              ? null
              : { name: next.position.thumb, midi: next.thumbMidi, mark: markOf(marks, next.position.shape) }
          }
          label={stepWords(now)}
        />
      </div>
      <input
        type="range"
        className={`${styles.slider} ${styles.stage}`}
        min={0}
        max={slots.length - 1}
        value={index}
        aria-label={words.study.route}
        aria-valuetext={stepWords(now)}
        aria-keyshortcuts={`Space ${HEAR_KEY}`}
        onChange={(event) => walkTo(Number(event.target.value))}
        onKeyDown={onKeyDown}
      />
      <p className={styles.help}>
        {words.study.routeHelp} {words.study.travel(lesson.plan.totalTravelMm)}
      </p>
      <WayInWords view={view} />
    </section>
  );
}

/** The whole way, a line a chord; a line leads to the chord. */
function WayInWords({ view }: { readonly view: WalkView }) {
  const stepWords = useStepWords();
  const [isOpen, setOpen] = useState(false);
  const { lesson, index } = view;
  return (
    <details className={styles.inWords} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.study.inWords}</summary>
      {isOpen && (
        <ol>
          {lesson.plan.slots.map((slot, at) => (
            <li key={at} aria-current={at === index ? 'step' : undefined}>
              <button
                type="button"
                className="plain"
                onClick={() => {
                  walkTo(at);
                  chooseSlot(nameOf(slot));
                }}
              >
                {stepWords(slot)}
              </button>
            </li>
          ))}
        </ol>
      )}
    </details>
  );
}
