import { numeralText } from '@fivespan/formats/diagram';
import { memo, type KeyboardEvent } from 'react';
import { chooseSlot, type BarView, type DeskView, type SlotView } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { spokenChord, spokenNumeral, spokenSigns } from '../words/spoken.ts';
import { spokenMark, useThumbText, type ThumbText } from '../words/thumb-name.ts';
import { PinSign } from './PinSign.tsx';
import styles from './StudyStrip.module.css';

interface SlotProps {
  readonly slot: SlotView;
  readonly bar: BarView;
  readonly isChosen: boolean;
  /** Whether it is part of what the chosen chord is part of. */
  readonly isInFigure: boolean;
  readonly view: DeskView;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

/** What is found about a chord, in words. */
function saidOf(
  slot: SlotView,
  bar: BarView,
  thumbText: ThumbText,
  keyText: ReturnType<typeof useKeyText>,
): readonly string[] {
  const w = words.study;
  return [
    w.bar(bar.bar.number),
    ...(bar.slots.length > 1 ? [w.beat(slot.beat)] : []),
    spokenChord(slot.chord),
    ...(slot.numeral === '' ? [] : [w.inKey(spokenNumeral(slot.numeral), spokenSigns(keyText(slot.key)))]),
    ...(slot.thumbs.length === 0 ? [] : [w.thumbs(slot.thumbs.map(({ name }) => thumbText.said(name, '')))]),
    // once: a family is of one shape
    ...[spokenMark(slot.thumbs[0]?.mark ?? '')].filter((each) => each !== ''),
    ...(slot.figures.length === 0 ? [] : [w.partOf(slot.figures.map(({ kind }) => w.figure(kind)))]),
    ...(bar.passes > 1 ? [w.playedTimes(bar.passes)] : []),
    ...(slot.isPinned ? [w.hasPin] : []),
  ];
}

/** A chord of the strip: its symbol, and under it what the view is about, its numeral or its thumb. */
export const StripSlot = memo(function StripSlot({ slot, bar, isChosen, isInFigure, view, onKeyDown }: SlotProps) {
  const thumbText = useThumbText();
  const keyText = useKeyText();
  const here = slot.thumbs.find(({ isHere }) => isHere);
  return (
    <div
      role="option"
      className={styles.slot}
      aria-selected={isChosen}
      aria-label={saidOf(slot, bar, thumbText, keyText).join(', ')}
      tabIndex={isChosen ? 0 : -1}
      data-slot={slot.index}
      data-outside={!slot.isInside || undefined}
      data-figure={isInFigure || undefined}
      style={{ flexGrow: slot.share }}
      onClick={() => chooseSlot(slot.name)}
      onKeyDown={onKeyDown}
    >
      <span className={styles.symbol}>
        <ChordName chord={slot.chord} />
        {slot.isPinned && <PinSign />}
      </span>
      {view === 'chord' ? (
        <span className={`numeral ${styles.under}`}>{slot.numeral === '' ? '\u00A0' : numeralText(slot.numeral)}</span>
      ) : (
        <span className={`${styles.under} ${styles.thumb}`}>
          {here === undefined ? '\u00A0' : thumbText.printed(here.name, here.mark)}
        </span>
      )}
    </div>
  );
});
