import { $pagesChoice, $preview, choosePages, showPages, stopPages, ZOOMS } from '../../features/handing-out/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { faultText } from './fault-text.ts';
import { StateNote } from '../shell/StatePicture.tsx';
import { PageSheet } from './PageSheet.tsx';
import styles from './Preview.module.css';

/** The pages as they will be printed, one below the other. */
export function Preview({ lessonId }: { readonly lessonId: string }) {
  const preview = useStore($preview);
  const { zoom } = useStore($pagesChoice);
  const shown = preview?.shown ?? null;
  const pages = shown?.pdf.pages ?? [];
  const place = ZOOMS.indexOf(zoom);
  const isMaking = preview?.state === 'making';
  const fault = preview !== null && typeof preview.state !== 'string' ? preview.state : null;
  return (
    <section className={styles.preview} aria-labelledby="preview-heading">
      <div className={styles.bar}>
        <h2 id="preview-heading" className="unseen">
          {words.pages.preview}
        </h2>
        <div role="status" className={styles.state}>
          {isMaking && (
            <>
              {shown === null ? words.pages.setting : words.pages.settingAgain} <progress aria-hidden="true" />
            </>
          )}
          {preview?.state === 'ready' && words.pages.pages(pages.length)}
        </div>
        {isMaking && <button onClick={stopPages}>{words.pages.stop}</button>}
        <div className={styles.zoom}>
          <button
            aria-label={words.pages.smaller}
            disabled={place <= 0}
            onClick={() => choosePages(lessonId, { zoom: ZOOMS[place - 1] ?? zoom })}
          >
            −
          </button>
          <button
            aria-label={words.pages.larger}
            disabled={place >= ZOOMS.length - 1}
            onClick={() => choosePages(lessonId, { zoom: ZOOMS[place + 1] ?? zoom })}
          >
            +
          </button>
          {zoom !== 1 && <button onClick={() => choosePages(lessonId, { zoom: 1 })}>{words.pages.fit}</button>}
        </div>
      </div>
      {fault !== null && preview !== null && (
        <StateNote state={fault.kind === 'offline' ? 'offline' : 'stopped'} role="alert">
          <p>
            {faultText(fault, words.pages.pagesCannot)}{' '}
            <button onClick={() => void showPages(preview.asked)}>{words.pages.again}</button>
          </p>
        </StateNote>
      )}
      {preview === null && (
        <StateNote state="nothing">
          <p>{words.pages.stopped}</p>
        </StateNote>
      )}
      {isMaking && shown === null && <div className={styles.coming} aria-hidden="true" />}
      {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex -- a part that scrolls sideways must be reached by keyboard */}
      <div className={styles.pages} tabIndex={0} role="group" aria-label={words.pages.preview} aria-busy={isMaking}>
        <ol>
          {pages.map((page, index) => (
            <PageSheet key={index} page={page} number={index + 1} pages={pages.length} zoom={zoom} />
          ))}
        </ol>
      </div>
    </section>
  );
}
