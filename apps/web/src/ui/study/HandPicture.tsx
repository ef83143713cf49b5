import { midi, pitchClassOf } from '@fivespan/core';
import { degreeLabels, markOf, thumbsWithin, type KeyboardPicture as Picture } from '@fivespan/formats/diagram';
import { useMemo, useRef } from 'react';
import { $shapeMarks, lookAtPosition, type LadderView } from '../../features/study/index.ts';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { stretchAround, WHOLE_STRETCH } from '../keyboard/stretch.ts';
import { useRoom } from '../keyboard/use-room.ts';
import { useTheme } from '../shell/use-theme.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './HandPicture.module.css';

/** Below this width, in letters' heights, two octaves are shown, without degrees: keys would be too narrow for their numerals. */
const WIDE_EM = 34;

interface HandPictureProps {
  readonly view: LadderView;
  /** Whether degrees stand above the felt, where there is room for them. */
  readonly hasDegrees?: boolean;
}

/** What is looked at, on the keyboard: the hand, and the tabs of the other places it could take. */
export function HandPicture({ view, hasDegrees = false }: HandPictureProps) {
  const { chord, chordScale, family, position, thumbMidi } = view.lookedAt;
  const marks = useStore($shapeMarks);
  const theme = useTheme();
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const isNarrow = room !== null && room.widthEm < WIDE_EM;
  const isLabelled = hasDegrees && !isNarrow;

  const picture = useMemo((): Picture => {
    const stretch = isNarrow ? stretchAround(thumbMidi ?? midi(60)) : WHOLE_STRETCH;
    const own = position === null ? null : pitchClassOf(position.thumb);
    const others = (family?.positions ?? []).map(({ thumb }) => thumb).filter((each) => pitchClassOf(each) !== own);
    const mark = position === null ? '' : markOf(marks, position.shape);
    return {
      ...stretch,
      hand: position === null || thumbMidi === null ? null : { position, thumbMidi, mark },
      otherThumbs: thumbsWithin(others, stretch.lowest, stretch.highest),
      degrees: isLabelled ? degreeLabels(chord, chordScale) : [],
    };
  }, [isNarrow, thumbMidi, position, marks, family, chord, chordScale, isLabelled]);

  return (
    <section aria-labelledby="study-keyboard" ref={box}>
      <h3 id="study-keyboard" className="unseen">
        {words.study.keyboard}
      </h3>
      {/* a tab of the picture may be pressed too; the same is among the buttons of the hand, which have the keyboard */}
      {/* oxlint-disable-next-line jsx-a11y/click-events-have-key-events, jsx-a11y/no-static-element-interactions */}
      <div
        className={styles.picture}
        data-degrees={hasDegrees || undefined}
        onClick={(event) => {
          const key = (event.target as Element).closest('.tab.other, .tab-name')?.getAttribute('data-midi');
          if (key !== null && key !== undefined) lookAtPosition(Number(key) % 12, Number(key));
        }}
      >
        <KeyboardPicture picture={picture} theme={theme} />
      </div>
    </section>
  );
}
