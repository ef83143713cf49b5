import { allowedFamilies, typeset } from '@fivespan/core';
import { markOf } from '@fivespan/formats/diagram';
import { useId, useMemo } from 'react';
import { $shapeMarks, allowSecond, pinsAt, type Study } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { Drawn } from '../controls/Drawn.tsx';
import { WHOLE_STRETCH } from '../keyboard/stretch.ts';
import { freeTabs, namesOf } from '../stage/free-content.ts';
import { StageKeyboard } from '../stage/StageKeyboard.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useThumbText } from '../words/thumb-name.ts';
import styles from './FreeHere.module.css';

const w = words.study;

/** All that a free hand may do over the chosen chord: every thumb of its family, and of a second one where the teacher allows it. */
export function FreeHere({ study }: { readonly study: Study }) {
  const id = useId();
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  const { choices, planned, name } = study;
  const { analysed, chordScale } = planned;
  const families = useMemo(
    () =>
      allowedFamilies(
        choices.pins.plan,
        choices.hand,
      )(planned).map((each) => ({ ...each, mark: markOf(marks, each.family.shape) })),
    [choices, planned, marks],
  );
  const tabs = useMemo(() => freeTabs(families, thumbText, { isComing: false, place: null }), [families, thumbText]);
  const sets = useMemo(() => [tabs], [tabs]);
  if (chordScale === null || families.length === 0) {
    return (
      <Drawn picture="rest">
        <p>{chordScale === null ? w.silent : w.noHand(typeset(chordScale.name))}</p>
      </Drawn>
    );
  }
  const second = pinsAt(choices.pins, name).secondScale;
  const said = families.map((each) => namesOf(each, thumbText.said).join(', ')).join(`; ${w.freeBesides} `);
  return (
    <div className={styles.free}>
      <h2 id="study-chord" tabIndex={-1}>
        <ChordName chord={analysed.played.slot.chord} step="text" /> <span className={styles.what}>{w.free}</span>
      </h2>
      {families.map((each) => (
        <p key={each.which} className={styles.family}>
          {w.freeFirst(typeset(each.chordScale.name))}{' '}
          <span className="serif">{namesOf(each, thumbText.printed).join(' ')}</span>
        </p>
      ))}
      <StageKeyboard
        content={{ hand: [], tabs, everyFreeSet: sets, travels: WHOLE_STRETCH, label: w.freeKeyboard(said) }}
      />
      <p className={styles.second}>
        <label htmlFor={id}>{w.freeSecond}</label>{' '}
        <select
          id={id}
          value={second ?? ''}
          onChange={({ target }) => allowSecond(study, target.value === '' ? null : target.value)}
        >
          <option value="">{w.freeNone}</option>
          {analysed.chordScales
            .filter(({ id: rung }) => rung !== chordScale.id || rung === second)
            .map((rung) => (
              <option key={rung.id} value={rung.id}>
                {w.freeRung(typeset(rung.name), rung.move)}
              </option>
            ))}
        </select>
      </p>
    </div>
  );
}
