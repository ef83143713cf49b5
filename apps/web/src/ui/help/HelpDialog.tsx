import { useState } from 'react';
import { Button, Input, Label, SearchField } from 'react-aria-components';
import { saveDiagnostics } from '../../features/diagnostics/index.ts';
import { closeDialog, SCREENS, type Screen } from '../../features/navigation/index.ts';
import { startTour } from '../../features/tour/index.ts';
import { EXPLAINED, KEYS, type Explained } from '../words/help.ts';
import { words } from '../words/index.ts';
import styles from './HelpDialog.module.css';
import { matches } from './matches.ts';

/** react-aria gives the focus back a frame after a dialog is gone; a few frames are safe. */
const FOCUS_GIVEN_BACK_MS = 120;

interface HelpDialogProps {
  /** The word that is looked for at first. */
  readonly word: string | null;
  readonly screen: Screen | undefined;
}

/** Each word of the trade in a sentence, those of the screen first; the keys; being shown round again. */
export default function HelpDialog({ word, screen }: HelpDialogProps) {
  const [sought, setSought] = useState(word ?? '');
  const found = EXPLAINED.filter((each) => matches(each, sought));
  const here = screen === undefined ? [] : found.filter((each) => each.screens.includes(screen));
  const others = found.filter((each) => !here.includes(each));
  const { help, shell } = words;
  return (
    <div className={styles.help}>
      <Here screen={screen} />
      <SearchField className={styles.search ?? ''} value={sought} onChange={setSought}>
        <Label>{help.search}</Label>
        <div className={styles.field}>
          <Input maxLength={60} />
          {sought !== '' && <Button className="plain">{help.clear}</Button>}
        </div>
      </SearchField>
      {sought === '' && screen !== undefined && (
        <button
          type="button"
          className={styles.again}
          onClick={() => {
            closeDialog();
            // the sheet gives the focus back first; then the look round takes it
            setTimeout(startTour, FOCUS_GIVEN_BACK_MS);
          }}
        >
          {shell.tour.again}
        </button>
      )}
      {sought === '' && <Keys screen={screen} />}
      <p role="status" className={sought === '' ? 'unseen' : 'soft'}>
        {found.length === 0 ? help.none : help.found(found.length)}
      </p>
      {screen !== undefined && here.length > 0 && <Words title={help.here(shell.screens[screen])} list={here} />}
      {others.length > 0 && <Words title={here.length > 0 ? help.others : help.all} list={others} />}
      {sought === '' && (
        <>
          <section>
            <h2>{help.care}</h2>
            <p>{help.careText}</p>
          </section>
          <section>
            <h2>{help.about}</h2>
            <p>{help.aboutText}</p>
            <p className={styles.links}>
              <a href="./LICENSE.txt" target="_blank" rel="noreferrer">
                {help.licence}
              </a>
              <a href="./NOTICE.txt" target="_blank" rel="noreferrer">
                {help.notices}
              </a>
            </p>
            <button type="button" onClick={() => void saveDiagnostics()}>
              {shell.fault.diagnostics}
            </button>
            <p className="soft">{shell.fault.diagnosticsHint}</p>
          </section>
        </>
      )}
    </div>
  );
}

/** What the screen one is on is for, before anything else. */
function Here({ screen }: { readonly screen: Screen | undefined }) {
  const place = screen ?? 'lessons';
  const { help, shell } = words;
  return (
    <section className={styles.here}>
      <h2>{screen === undefined ? shell.lessons : shell.screens[screen]}</h2>
      <ol>
        {help.begin[place].map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ol>
    </section>
  );
}

function Words({ title, list }: { readonly title: string; readonly list: readonly Explained[] }) {
  return (
    <section>
      <h2>{title}</h2>
      <dl className={styles.words}>
        {list.map(({ word, says }) => (
          <div key={word}>
            <dt>{word}</dt>
            <dd>{says}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function Keys({ screen }: { readonly screen: Screen | undefined }) {
  const { help, shell } = words;
  const places = screen === undefined ? SCREENS : [screen];
  return (
    <section>
      <h2>{help.keys}</h2>
      {([...places, 'everywhere'] as const)
        .filter((each) => KEYS[each].length > 0)
        .map((each) => (
          <div key={each}>
            <h3>{each === 'everywhere' ? help.everywhere : shell.screens[each]}</h3>
            <dl className={styles.keys}>
              {KEYS[each].map(([keys, does]) => (
                <div key={keys}>
                  <dt>
                    {keys.split(' ').map((key) => (
                      <kbd key={key}>{key}</kbd>
                    ))}
                  </dt>
                  <dd>{does}</dd>
                </div>
              ))}
            </dl>
          </div>
        ))}
    </section>
  );
}
