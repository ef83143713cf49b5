import { formatKey, keysAlong, PART_READERS, type Key } from '@fivespan/core';
import type { Paper, View } from '@fivespan/formats/handout';
import { useId } from 'react';
import { showDrillOnPaper } from '../../features/drill/index.ts';
import { choosePages, isPart, type Page } from '../../features/handing-out/index.ts';
import { changeSettings } from '../../features/settings/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './WhichPages.module.css';

const VIEWS: readonly View[] = ['study', 'sheet', 'play'];
const PAPERS: readonly Paper[] = ['a4', 'letter'];

interface WhichPagesProps {
  readonly lessonId: string;
  readonly view: Page;
  readonly keyShown: Key;
  readonly own: Key;
  readonly paper: Paper;
}

/** Which page, for whom, in which key and on which paper. */
export function WhichPages({ lessonId, view, keyShown, own, paper }: WhichPagesProps) {
  const id = useId();
  const keyText = useKeyText();
  const keys = keysAlong(own, 'fourths');
  const kind = isPart(view) ? 'part' : view;
  const { views } = words.pages;
  return (
    <div className={styles.which}>
      <fieldset className={styles.views} aria-describedby={`${id}-about`}>
        <legend className="unseen">{words.pages.view}</legend>
        {([...VIEWS, 'part'] as const).map((each) => (
          <label key={each} data-chosen={each === kind || undefined}>
            <input
              type="radio"
              name={`${id}-view`}
              checked={each === kind}
              onChange={() => {
                // whoever asks for a page wants to see it
                showDrillOnPaper(null);
                choosePages(lessonId, { view: each === 'part' ? PART_READERS[0] : each });
              }}
            />
            {views[each].name}
          </label>
        ))}
      </fieldset>
      <p id={`${id}-about`} className={styles.about}>
        {views[kind].about}
      </p>
      <div className={styles.rest}>
        {isPart(view) && (
          <span className={styles.field}>
            <label htmlFor={`${id}-reader`}>{words.pages.reader}</label>
            <select
              id={`${id}-reader`}
              value={view}
              onChange={(event) => choosePages(lessonId, { view: event.target.value as Page })}
            >
              {PART_READERS.map((each) => (
                <option key={each} value={each}>
                  {words.pages.readers[each]}
                </option>
              ))}
            </select>
          </span>
        )}
        <span className={styles.field}>
          <label htmlFor={`${id}-key`}>{words.pages.key}</label>
          <select
            id={`${id}-key`}
            value={formatKey(keyShown)}
            onChange={(event) =>
              choosePages(lessonId, { key: keys.find((each) => formatKey(each) === event.target.value) ?? null })
            }
          >
            {keys.map((each, index) => (
              <option key={formatKey(each)} value={formatKey(each)}>
                {index === 0 ? words.pages.ownKey(keyText(each)) : keyText(each)}
              </option>
            ))}
          </select>
        </span>
        <fieldset className={styles.paper}>
          <legend className="unseen">{words.pages.paper}</legend>
          {PAPERS.map((each) => (
            <label key={each}>
              <input
                type="radio"
                name={`${id}-paper`}
                checked={paper === each}
                onChange={() => changeSettings({ paper: each })}
              />
              {words.pages.papers[each]}
            </label>
          ))}
        </fieldset>
      </div>
    </div>
  );
}
