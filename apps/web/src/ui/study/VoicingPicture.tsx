import { midi, motionBetween, VOICING_KINDS, wordsOfVoicingForm, type Voicing, type VoicingKind } from '@fivespan/core';
import type { KeyboardPicture as Picture } from '@fivespan/formats/diagram';
import { useId, useMemo, useState } from 'react';
import { changeLesson } from '../../features/open-lesson/index.ts';
import { pinsAt, pinVoicing, sound, voicingHeard, voicingView, type Study } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { useTheme } from '../shell/use-theme.ts';
import { words } from '../words/index.ts';
import styles from './VoicingPicture.module.css';

/** Keys from C2 to G5: every kind of voicing is in them. */
const STRETCH = { lowest: midi(36), highest: midi(79) };

/** Another way to voice a chord that is looked at, and which voicing it stands for. */
interface Looked {
  readonly used: Voicing;
  readonly way: number;
}

/** How the chosen chord is voiced, on the keyboard; the other ways it could lie, and a pin for each. */
export function VoicingPicture({ study }: { readonly study: Study }) {
  const { lesson, choices, slotIndex, planned } = study;
  const id = useId();
  const theme = useTheme();
  const view = useMemo(() => voicingView({ lesson, slotIndex }), [lesson, slotIndex]);
  const [looked, setLooked] = useState<Looked | null>(null);
  const { used, before, ways } = view;
  const at = looked !== null && looked.used === used ? looked.way : -1;
  const shown = used === null ? null : (ways[at] ?? used);
  const picture = useMemo(
    (): Picture => ({
      ...STRETCH,
      hand: null,
      otherThumbs: [],
      degrees: [],
      held: (shown?.pitches ?? []).map(({ name }, place) => ({ name, midi: shown?.keys[place] ?? midi(60) })),
    }),
    [shown],
  );
  const isPinned = pinsAt(lesson.choices.pins, study.name).voicing !== null;
  return (
    <section aria-labelledby={`${id}-title`} className={styles.voicing}>
      <h2 id={`${id}-title`} className="unseen">
        {words.study.voicing}
      </h2>
      <p className={styles.kind}>
        <label htmlFor={`${id}-kind`}>{words.study.voicingKind}</label>
        <select
          id={`${id}-kind`}
          value={choices.voicings}
          onChange={({ target }) => changeLesson({ choices: { voicings: target.value as VoicingKind } })}
        >
          {VOICING_KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {words.study.voicingKinds[kind]}
            </option>
          ))}
        </select>
      </p>
      {shown === null || used === null ? (
        <p>{words.study.silent}</p>
      ) : (
        <>
          <div className={styles.picture}>
            <KeyboardPicture picture={picture} theme={theme} />
          </div>
          <p role="status" className={styles.told}>
            <ChordName chord={planned.analysed.played.slot.chord} /> {wordsOfVoicingForm(shown.form, shown.triad)}
            {before !== null && `; ${words.study.voicesMove(motionBetween(before.keys, shown.keys))}`}
            {shown === used && isPinned && `; ${words.study.voicingPinned}`}
          </p>
          <p className={styles.buttons}>
            <button
              type="button"
              disabled={ways.length === 0}
              onClick={() => setLooked({ used, way: at + 1 < ways.length ? at + 1 : -1 })}
            >
              {words.study.anotherVoicing}
            </button>
            <button
              type="button"
              disabled={shown === used && isPinned}
              onClick={() => pinVoicing(study.name, shown.keys)}
            >
              {words.study.pinVoicing}
            </button>
            <button type="button" className="plain" onClick={() => void sound(voicingHeard(shown))}>
              {words.study.hear} {words.study.hearThe.voicing}
            </button>
          </p>
        </>
      )}
    </section>
  );
}
