import { midi, pitchClassOf, reachOf, type Midi } from '@fivespan/core';
import { degreeLabels, markOf, thumbsWithin, type KeyboardPicture as Picture } from '@fivespan/formats/diagram';
import { useMemo, useRef } from 'react';
import { flushSync } from 'react-dom';
import {
  $shapeMarks,
  lookAtPosition,
  lookAtRoute,
  pinPosition,
  pinsAt,
  positionHeard,
  sound,
  type LadderView,
  type Study,
} from '../../features/study/index.ts';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { stretchAround, WHOLE_STRETCH } from '../keyboard/stretch.ts';
import { useTheme } from '../shell/use-theme.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useThumbText } from '../words/thumb-name.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import styles from './HandPicture.module.css';
import { ThumbTab } from './ThumbTab.tsx';
import { useRoom } from '../keyboard/use-room.ts';

/** Below this width, in letters' heights, two octaves are shown: keys would be too narrow for their numerals. */
const WIDE_EM = 34;

/** What is looked at, on the keyboard; and the other places the hand could take in it. */
export function HandPicture({ study, view }: { readonly study: Study; readonly view: LadderView }) {
  const { chord, chordScale, family, position, thumbMidi, thumbKeys, isUsed } = view.lookedAt;
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  const mark = position === null ? '' : markOf(marks, position.shape);
  const theme = useTheme();
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const isNarrow = room !== null && room.widthEm < WIDE_EM;

  const picture = useMemo((): Picture => {
    const stretch = isNarrow ? stretchAround(thumbMidi ?? midi(60)) : WHOLE_STRETCH;
    const own = position === null ? null : pitchClassOf(position.thumb);
    const others = (family?.positions ?? []).map(({ thumb }) => thumb).filter((each) => pitchClassOf(each) !== own);
    return {
      ...stretch,
      hand: position === null || thumbMidi === null ? null : { position, thumbMidi, mark },
      otherThumbs: thumbsWithin(others, stretch.lowest, stretch.highest),
      degrees: degreeLabels(chord, chordScale),
    };
  }, [isNarrow, thumbMidi, position, mark, family, chord, chordScale]);

  const octave = (by: 12 | -12): Midi | undefined =>
    thumbKeys.find((key) => thumbMidi !== null && key === thumbMidi + by);
  const isPinned = pinsAt(study.choices.pins, study.name).position?.thumbMidi === thumbMidi && isUsed;
  const reach = position === null ? null : reachOf(position.shape, pitchClassOf(position.thumb), study.choices.hand);
  const hearPosition = () => (position === null || thumbMidi === null ? [] : positionHeard(chord, position, thumbMidi));

  const onKeyDown = onHearKey(hearPosition);

  return (
    <section aria-labelledby="study-keyboard">
      <h3 id="study-keyboard" className="unseen">
        {words.study.keyboard}
      </h3>
      {/* a tab of the picture may be pressed too; the same is among the buttons below, which have the keyboard */}
      {/* oxlint-disable-next-line jsx-a11y/click-events-have-key-events, jsx-a11y/no-static-element-interactions */}
      <div
        ref={box}
        className={styles.picture}
        onClick={(event) => {
          const key = (event.target as Element).closest('.tab.other, .tab-name')?.getAttribute('data-midi');
          if (key !== null && key !== undefined) lookAtPosition(Number(key) % 12, Number(key));
        }}
      >
        <KeyboardPicture picture={picture} theme={theme} />
      </div>
      <Legend picture={picture} />
      {family !== null && position !== null && (
        <div className={styles.positions} role="group" aria-label={words.study.positions}>
          <span aria-hidden="true">{words.study.positions}</span>
          {family.positions.map((each) => {
            const isHere = pitchClassOf(each.thumb) === pitchClassOf(position.thumb);
            return (
              <button
                key={each.thumb}
                type="button"
                className={styles.thumb}
                aria-label={words.study.position(thumbText.said(each.thumb, mark))}
                aria-current={isHere || undefined}
                aria-keyshortcuts={HEAR_KEY}
                onClick={() => lookAtPosition(pitchClassOf(each.thumb), null)}
                onKeyDown={onKeyDown}
              >
                <ThumbTab name={thumbText.printed(each.thumb, mark)} isHere={isHere} />
              </button>
            );
          })}
          {([-12, 12] as const).map((by) => {
            const key = octave(by);
            return (
              <button
                key={by}
                type="button"
                className="plain"
                disabled={key === undefined}
                onKeyDown={onKeyDown}
                onClick={() => key !== undefined && lookAtPosition(pitchClassOf(position.thumb), key)}
              >
                {by < 0 ? words.study.lower : words.study.higher}
              </button>
            );
          })}
          {thumbMidi !== null && !isPinned && (
            <button
              type="button"
              onKeyDown={onKeyDown}
              onClick={(event) => {
                pinPosition(study, chordScale, position.shape.id, thumbMidi);
                // this button goes: the focus stays with the thumb
                event.currentTarget.parentElement?.querySelector<HTMLElement>('[aria-current]')?.focus();
              }}
            >
              {words.study.pinPosition}
            </button>
          )}
          <button
            type="button"
            className="plain"
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => void sound(hearPosition())}
            onKeyDown={onKeyDown}
          >
            {words.study.hear} {words.study.hearThe.position}
          </button>
          {!isUsed && (
            <button
              type="button"
              className="plain"
              onClick={({ currentTarget }) => {
                const row = currentTarget.parentElement;
                flushSync(lookAtRoute);
                // this button goes: the focus goes to the thumb that is used
                row?.querySelector<HTMLElement>('[aria-current]')?.focus();
              }}
            >
              {words.study.backToRoute}
            </button>
          )}
        </div>
      )}
      {reach !== null && reach.verdict !== 'easy' && (
        <p className={styles.care}>
          {reach.verdict === 'out of reach' ? words.study.handBeyond : words.study.handNear}
        </p>
      )}
    </section>
  );
}

function Legend({ picture }: { readonly picture: Picture }) {
  const { legend } = words.study;
  const rubs = picture.degrees.find((each) => each.kind === 'rubs');
  return (
    <p className={styles.legend} aria-hidden="true">
      {picture.hand !== null && (
        <>
          <span>
            <i className={styles.now} /> {legend.now}
          </span>
          <span>
            <i className={styles.other} /> {legend.others}
          </span>
          <span>
            <i className={styles.hand} /> {legend.hand}
          </span>
        </>
      )}
      <span>
        <b>{legend.tones}</b> {legend.toneWord}
      </span>
      <span>
        <em>{legend.tensions}</em> {legend.tensionWord}
      </span>
      {rubs !== undefined && (
        <span className={styles.rubs}>
          ✕{rubs.text} {legend.rubs}
        </span>
      )}
    </p>
  );
}
