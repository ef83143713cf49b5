import { formatKey, typeset, type Key } from '@fivespan/core';
import { useState } from 'react';
import { Button, Dialog, Heading, Label, Modal, ModalOverlay, Radio, RadioGroup } from 'react-aria-components';
import { $keyNow, $shownIn, keysToChoose, previewIn, showIn } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useNoteText } from '../words/note-names.ts';
import styles from './TransposeDialog.module.css';

const w = words.chart.dialog;
const PREVIEW_BARS = 8;

/** Another key to show the lesson in, the first bars as they are written there. The chart itself stays. */
export default function TransposeDialog({
  close,
  say,
}: {
  readonly close: () => void;
  readonly say: (text: string) => void;
}) {
  const now = useStore($keyNow);
  const shownIn = useStore($shownIn);
  const [to, setTo] = useState<string | null>(null);
  const from = now?.key ?? null;
  const shown = shownIn ?? from;
  const isShown = (key: Key): boolean => shown !== null && formatKey(key) === formatKey(shown);
  const keys = from === null ? [] : keysToChoose(from.mode);
  const chosen = keys.find((key) => formatKey(key) === to) ?? null;
  const name = useKeyText();
  const noteText = useNoteText();
  return (
    <ModalOverlay className={styles.overlay ?? ''} isOpen isDismissable onOpenChange={(isOpen) => !isOpen && close()}>
      <Modal className={styles.modal ?? ''}>
        <Dialog className={styles.dialog ?? ''}>
          <Heading slot="title" level={2}>
            {w.title}
          </Heading>
          {from === null || now === null ? (
            <p role="status">{w.waiting}</p>
          ) : (
            <>
              <p>
                {now.isStated ? w.from(name(from)) : w.fromFound(name(from))}
                {shownIn !== null && ` ${w.shownNow(name(shownIn))}`}
              </p>
              <RadioGroup className={styles.group ?? ''} value={to} onChange={setTo}>
                <Label>{w.to}</Label>
                <div className={styles.keys}>
                  {keys.map((key) => (
                    <Radio
                      key={formatKey(key)}
                      value={formatKey(key)}
                      className={styles.key ?? ''}
                      aria-label={name(key)}
                    >
                      {noteText(key.tonic)}
                    </Radio>
                  ))}
                </div>
              </RadioGroup>
              <div aria-live="polite">
                {chosen !== null && (
                  <>
                    <p className="soft">{w.becomes}</p>
                    <p className={styles.preview}>
                      {previewIn(chosen, from, PREVIEW_BARS).map((bar, index) => (
                        <span key={index}>{typeset(bar)}</span>
                      ))}
                    </p>
                    {isShown(chosen) && <p>{w.same}</p>}
                  </>
                )}
              </div>
              <p className="soft">{w.pins}</p>
            </>
          )}
          <div className={styles.actions}>
            <Button onPress={close}>{w.close}</Button>
            {from !== null && (
              <Button
                className="main"
                isDisabled={chosen === null || isShown(chosen)}
                onPress={() => {
                  if (chosen === null) return;
                  showIn(chosen, from);
                  say(words.chart.said.shown(name(chosen)));
                  close();
                }}
              >
                {chosen === null ? w.title : w.show(name(chosen))}
              </Button>
            )}
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
