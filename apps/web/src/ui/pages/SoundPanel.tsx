import {
  formatKey,
  LONGEST_PROGRAMME_MINUTES,
  usualProgramme,
  type Lesson,
  type ProgrammeChorus,
} from '@fivespan/core';
import { useId, useMemo, useState } from 'react';
import {
  lengthOf,
  saveSound,
  SOUND_KINDS,
  type PrintedLesson,
  type SoundKind,
} from '../../features/handing-out/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './Panel.module.css';

/** Rows of a programme that follow each other and are alike, counted. */
function rowsOf(choruses: readonly ProgrammeChorus[]): { readonly chorus: ProgrammeChorus; readonly times: number }[] {
  const rows: { chorus: ProgrammeChorus; times: number }[] = [];
  const nameOf = ({ key, tempoBpm, players }: ProgrammeChorus): string =>
    JSON.stringify([formatKey(key), tempoBpm, players]);
  for (const chorus of choruses) {
    const last = rows.at(-1);
    if (last !== undefined && nameOf(last.chorus) === nameOf(chorus)) last.times++;
    else rows.push({ chorus, times: 1 });
  }
  return rows;
}

/** More rows than these are summed up. */
const MOST_ROWS = 12;

/** The lesson's programme as a sound file. */
export function SoundPanel({
  lessonId,
  lesson,
  made,
}: {
  readonly lessonId: string;
  readonly lesson: PrintedLesson;
  /** In the tune's own key, as last computed. */
  readonly made: Lesson;
}) {
  const id = useId();
  const keyText = useKeyText();
  const [kind, setKind] = useState<SoundKind>('mp3');
  const { programme: chosen } = lesson.choices;
  const programme = useMemo(
    () => chosen ?? usualProgramme(made.chart, made.analysis.key),
    [chosen, made.chart, made.analysis.key],
  );
  const { minutes, fits } = lengthOf(made, programme);
  const rows = rowsOf(programme.choruses);
  return (
    <>
      <div>
        <p>{words.pages.soundAbout(programme.choruses.length, minutes * 60)}</p>
        <ul className={styles.list}>
          {rows.slice(0, MOST_ROWS).map(({ chorus, times }, index) => (
            <li key={index}>
              {words.pages.soundRow(keyText(chorus.key), chorus.tempoBpm, times)},{' '}
              {words.pages.soundPlayers(chorus.players)}
            </li>
          ))}
          {rows.length > MOST_ROWS && <li>…</li>}
        </ul>
        {chosen === null && <p className="soft">{words.pages.soundUsual}</p>}
        <p>
          <a href={hrefOf({ kind: 'lesson', id: lessonId, screen: 'play' })}>{words.pages.soundToPlay}</a>
        </p>
      </div>
      <fieldset>
        <legend>{words.pages.soundKind}</legend>
        {SOUND_KINDS.map((each) => (
          <label key={each} className={styles.option}>
            <input type="radio" name={`${id}-kind`} checked={kind === each} onChange={() => setKind(each)} />
            <span>
              {words.pages.soundKinds[each].name}
              <small>{words.pages.soundKinds[each].about}</small>
            </span>
          </label>
        ))}
      </fieldset>
      {fits ? (
        <p>
          <button className="main" onClick={() => void saveSound(lesson, programme, kind)}>
            {words.pages.saveSound}
          </button>
        </p>
      ) : (
        <p className={styles.wrong}>{words.pages.soundTooLong(Math.ceil(minutes), LONGEST_PROGRAMME_MINUTES)}</p>
      )}
      <p className="soft">{words.pages.soundCare}</p>
    </>
  );
}
