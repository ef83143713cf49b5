import { useState } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import {
  leaveRestoring,
  mergeBackup,
  replaceByBackup,
  type OfDiffering,
  type Restoring,
  type Standing,
} from '../../features/backup/index.ts';
import { words } from '../words/index.ts';
import { damageText } from './damage-text.ts';
import dialog from './Dialog.module.css';
import { faultText } from './fault-text.ts';
import styles from './Lessons.module.css';
import { momentText } from './moment-text.ts';

const ORDER: Readonly<Record<Standing['kind'], number>> = { differs: 0, new: 1, same: 2 };

/** What a backup would change, shown before it does. */
export default function RestoreDialog({ restoring }: { readonly restoring: Restoring }) {
  const { backup, comparison, isRenewed, isTakingBack } = restoring;
  const texts = isTakingBack ? words.lessons.takingBack : words.lessons.restoring;
  const [ofDiffering, setOfDiffering] = useState<OfDiffering>('keep both');
  const [fault, setFault] = useState('');
  const standings = [...comparison.standings].sort((a, b) => ORDER[a.kind] - ORDER[b.kind]);
  const count = (kind: Standing['kind']): number => standings.filter((each) => each.kind === kind).length;
  const carryOut = async (work: ReturnType<typeof mergeBackup>): Promise<void> => {
    const outcome = await work;
    setFault(outcome === null ? '' : faultText(outcome));
  };
  return (
    <ModalOverlay className={dialog.ground ?? ''} isOpen onOpenChange={leaveRestoring}>
      <Modal className={dialog.sheet ?? ''}>
        <Dialog className={dialog.dialog ?? ''}>
          <Heading slot="title">{texts.title}</Heading>
          {isRenewed && <p role="alert">{words.lessons.restoreRenewed}</p>}
          <p>
            {texts.holds(backup.lessons.length)}{' '}
            <span className="soft">{words.lessons.restoreCounts(count('new'), count('same'), count('differs'))}</span>
          </p>
          <ul className={dialog.standings} aria-label={texts.title}>
            {standings.map((each) => (
              <li key={each.lesson.id} data-standing={each.kind}>
                <strong>{each.lesson.title || words.lessons.untitled}</strong>{' '}
                <span className="soft">
                  {words.lessons.restoreStanding[each.kind]}
                  {each.kind === 'differs' &&
                    ` (${texts.dates(momentText(each.lesson.changedAt), momentText(each.here.changedAt))})`}
                </span>
              </li>
            ))}
          </ul>
          {backup.takes !== undefined && (
            <p>{words.lessons.restoreTakes(backup.takes.length, backup.unusableTakes ?? 0)}</p>
          )}
          {backup.unusable.length > 0 && (
            <>
              <p>{words.lessons.restoreUnusable(backup.unusable.length)}</p>
              <ul className={styles.issues}>
                {backup.unusable.map(({ title, damage }, index) => (
                  // what is damaged has no name for certain
                  // oxlint-disable-next-line react/no-array-index-key
                  <li key={index}>
                    <strong>{title || words.lessons.untitled}</strong>: {damageText(damage)}
                  </li>
                ))}
              </ul>
            </>
          )}
          {count('differs') > 0 && (
            <fieldset className={dialog.choices}>
              <legend>{words.lessons.restoreDiffering}</legend>
              {Object.entries(texts.ofDiffering).map(([each, text]) => (
                <label key={each}>
                  <input
                    type="radio"
                    name="of-differing"
                    checked={each === ofDiffering}
                    onChange={() => setOfDiffering(each as OfDiffering)}
                  />
                  {text}
                </label>
              ))}
            </fieldset>
          )}
          {fault !== '' && <p role="alert">{fault}</p>}
          <dl className={dialog.ways}>
            <dt>
              <button
                className="main"
                onClick={() => void carryOut(mergeBackup(ofDiffering, words.lessons.secondTitle))}
              >
                {texts.merge}
              </button>
            </dt>
            <dd>{words.lessons.mergeHelp}</dd>
            {!isTakingBack && (
              <>
                <dt>
                  <button onClick={() => void carryOut(replaceByBackup())}>{words.lessons.replace}</button>
                </dt>
                <dd>{words.lessons.replaceHelp(comparison.onlyHere.length)}</dd>
              </>
            )}
            <dt>
              <button onClick={leaveRestoring}>{words.lessons.cancel}</button>
            </dt>
            <dd />
          </dl>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
