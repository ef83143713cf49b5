import { useState } from 'react';
import {
  $shelf,
  dropSetAside,
  saveAsFound,
  saveNewerAsFound,
  type ShelfState,
} from '../../features/lesson-list/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { $unkept, saveLessonFile } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { damageText } from './damage-text.ts';
import { faultText } from './fault-text.ts';
import { StatePicture, type PlaceState } from '../shell/StatePicture.tsx';
import styles from './Lessons.module.css';
import { momentText } from './moment-text.ts';

/** A newer version's things are closed to this one; else nothing lasts. */
function stateOf({ kind }: NonNullable<ShelfState['fault']>): PlaceState {
  return kind === 'newer' ? 'closed' : 'not kept';
}

/** What is to be told of the place where lessons are kept: that nothing lasts, what is damaged, newer, or not kept. */
export function ShelfTold() {
  const { fault, newer, setAside, unreadable } = useStore($shelf);
  const unkept = useStore($unkept);
  return (
    <>
      {fault !== null && (
        <div className={styles.fault} role="alert">
          <StatePicture state={stateOf(fault)} />
          <p>{faultText(fault)}</p>
          {fault.kind === 'newer' && (
            <button onClick={() => void saveNewerAsFound(words.lessons.asFoundName)}>
              {words.lessons.saveEverythingFound}
            </button>
          )}
        </div>
      )}
      {unkept.length > 0 && (
        <section className={styles.fault}>
          <StatePicture state="not kept" />
          <h2>{words.lessons.unkept}</h2>
          <p>{words.lessons.unkeptHelp}</p>
          <ul className={styles.aside}>
            {unkept.map(({ id, title, saving }) => (
              <li key={id}>
                <strong>{title || words.lessons.untitled}</strong>
                {typeof saving === 'object' && <span className="soft">{faultText(saving)}</span>}
                <a href={hrefOf({ kind: 'lesson', id, screen: 'chart' })}>{words.lessons.open}</a>
                <button onClick={() => saveLessonFile(id)}>{words.lessons.saveAsFile}</button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {newer.length > 0 && (
        <section className={styles.fault}>
          <StatePicture state="closed" />
          <h2>{words.lessons.newer}</h2>
          <p>{words.lessons.newerHelp}</p>
          <ul className={styles.aside}>
            {newer.map(({ title, text }) => (
              <li key={text}>
                <strong>{title || words.lessons.untitled}</strong>
                <button onClick={() => saveAsFound(title, text)}>{words.lessons.saveAsFile}</button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {setAside.length > 0 && (
        <section className={styles.fault}>
          <StatePicture state="stopped" />
          <h2>{words.lessons.setAside}</h2>
          <p>{words.lessons.setAsideHelp}</p>
          <ul className={styles.aside}>
            {setAside.map((record) => (
              <SetAside key={record.number} record={record} />
            ))}
          </ul>
        </section>
      )}
      {unreadable > 0 && (
        <div className={styles.fault} role="alert">
          <StatePicture state="stopped" />
          <p>{words.lessons.unreadable(unreadable)}</p>
        </div>
      )}
    </>
  );
}

/** A record that was set aside. It can be dropped once it has been saved as a file. */
function SetAside({ record }: { readonly record: ShelfState['setAside'][number] }) {
  const [isSaved, setSaved] = useState(false);
  const { number, title, text, damage, foundAt } = record;
  return (
    <li>
      <strong>{title || words.lessons.untitled}</strong>
      <span className="soft">{words.lessons.setAsideFound(momentText(foundAt), damageText(damage))}</span>
      <button
        onClick={() => {
          saveAsFound(title, text);
          setSaved(true);
        }}
      >
        {words.lessons.saveAsFile}
      </button>
      {isSaved && (
        <button
          aria-label={words.lessons.dropOf(title || words.lessons.untitled)}
          onClick={() => void dropSetAside(number)}
        >
          {words.lessons.drop}
        </button>
      )}
    </li>
  );
}
