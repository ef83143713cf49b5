import { lazy, Suspense } from 'react';
import { Dialog, Modal, ModalOverlay } from 'react-aria-components';
import { closeDialog, type OpenDialog, type Screen } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import styles from './Dialogs.module.css';
import SettingsDialog from './SettingsDialog.tsx';
import { StateNote } from './StatePicture.tsx';

const HelpDialog = lazy(() => import('../help/HelpDialog.tsx'));

interface DialogsProps {
  readonly dialog: OpenDialog;
  readonly screen: Screen | undefined;
}

/** What is over the screen. Escape, the sheet's own button and a press beside it close it; the focus goes back to where it was. */
export default function Dialogs({ dialog, screen }: DialogsProps) {
  const title = dialog.kind === 'settings' ? words.shell.settings : words.help.title;
  return (
    <ModalOverlay
      className={styles.overlay ?? ''}
      isOpen
      isDismissable
      onOpenChange={(isOpen) => {
        if (!isOpen) closeDialog();
      }}
    >
      <Modal className={styles.sheet ?? ''}>
        <Dialog className={styles.dialog ?? ''} aria-label={title}>
          <header className={styles.top}>
            <h1>{title}</h1>
            <button type="button" className="plain" onClick={closeDialog}>
              {words.shell.close}
            </button>
          </header>
          <Suspense
            fallback={
              <StateNote state="opening" role="status">
                <p>{words.shell.opening}</p>
              </StateNote>
            }
          >
            {dialog.kind === 'settings' ? (
              <SettingsDialog />
            ) : (
              <HelpDialog word={dialog.word ?? null} screen={screen} />
            )}
          </Suspense>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
