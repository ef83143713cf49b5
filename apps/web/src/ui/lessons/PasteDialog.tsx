import { barsOf, severityOf } from '@fivespan/core';
import { useMemo, useState } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { readChartContent, readChartText } from '../../features/outside-file/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import dialog from './Dialog.module.css';
import { IssueList } from './IssueList.tsx';

/** A chart's text, typed or pasted, with what is read of it said below. */
export default function PasteDialog({
  make,
  end,
}: {
  readonly make: (chartText: string) => Promise<void>;
  readonly end: () => void;
}) {
  const keyText = useKeyText();
  const [text, setText] = useState('');
  const isEmpty = text.trim() === '';
  const content = useMemo(() => readChartContent(text), [text]);
  const chart = useMemo(() => readChartText(text), [text]);
  const canMake = !isEmpty && content.kind === 'lesson';
  const issues = content.kind === 'lesson' || content.kind === 'refused' ? content.issues : [];
  const faults = issues.filter((issue) => severityOf(issue) === 'error').length;
  return (
    <ModalOverlay className={dialog.ground ?? ''} isOpen isDismissable={isEmpty} onOpenChange={end}>
      <Modal className={dialog.sheet ?? ''}>
        <Dialog className={dialog.dialog ?? ''}>
          <Heading slot="title">{words.lessons.pasteTitle}</Heading>
          <p className="soft" id="paste-help">
            {words.lessons.pasteHelp}
          </p>
          <label className={dialog.field}>
            {words.lessons.pasteLabel}
            <textarea
              value={text}
              rows={10}
              spellCheck={false}
              aria-describedby="paste-help paste-read"
              placeholder={words.lessons.pasteExample}
              // the dialog is about this field
              // oxlint-disable-next-line jsx-a11y/no-autofocus
              autoFocus
              onChange={(event) => setText(event.target.value)}
            />
          </label>
          <div id="paste-read" role="status" className={dialog.read}>
            {isEmpty ? null : chart === null ? (
              <p>{words.lessons.pasteNothing}</p>
            ) : (
              <p>{words.lessons.pasteReads(barsOf(chart).length, chart.key === null ? '' : keyText(chart.key))}</p>
            )}
            {!isEmpty && faults > 0 && canMake && <p>{words.lessons.pasteFaults(faults)}</p>}
            {!isEmpty && <IssueList issues={issues} />}
          </div>
          <div className={dialog.buttons}>
            <button
              className="main"
              disabled={!canMake}
              onClick={() => content.kind === 'lesson' && void make(content.chartText)}
            >
              {words.lessons.pasteMake}
            </button>
            <button onClick={end}>{words.lessons.cancel}</button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
