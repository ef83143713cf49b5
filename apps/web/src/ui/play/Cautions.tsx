import { useId } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { $isCautioned, answerCautions } from '../../features/playing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Cautions.module.css';

/** What everyone who practises should know, shown before the first start. */
export function Cautions() {
  const textId = useId();
  const isOpen = useStore($isCautioned);
  return (
    <ModalOverlay
      className={styles.overlay as string}
      isOpen={isOpen}
      onOpenChange={(opens) => {
        if (!opens) answerCautions(false);
      }}
    >
      <Modal className={styles.sheet as string}>
        <Dialog role="alertdialog" aria-describedby={textId} className={styles.dialog as string}>
          <Heading slot="title" level={2}>
            {words.play.careTitle}
          </Heading>
          <div id={textId}>
            {words.play.careText.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </div>
          <div className={styles.answers}>
            {/* who has come with a pedal or a key goes on with it */}
            {/* oxlint-disable-next-line jsx-a11y/no-autofocus */}
            <Button autoFocus className="main" onPress={() => answerCautions(true)}>
              {words.play.careBegin}
            </Button>
            <Button onPress={() => answerCautions(false)}>{words.play.careNotNow}</Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
