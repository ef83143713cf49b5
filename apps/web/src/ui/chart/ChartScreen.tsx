import { messageOf, remedyOf } from '@fivespan/core';
import { lazy, memo, Suspense, useCallback, useEffect, useState } from 'react';
import {
  $barEdit,
  $canRedo,
  $canUndo,
  $isOpen,
  $isReadable,
  $page,
  askForFocus,
  redoChange,
  undoChange,
} from '../../features/chart-editing/index.ts';
import { EMPTY_CHART } from '../../features/lesson-list/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { BarTools } from './BarTools.tsx';
import { ChartGrid } from './ChartGrid.tsx';
import { ChartHeading } from './ChartHeading.tsx';
import styles from './ChartScreen.module.css';
import { SymbolHelp } from './SymbolHelp.tsx';
import { OpenKey } from './OpenKey.tsx';
import { ShownElsewhere } from './ShownElsewhere.tsx';
import { TextForm } from './TextForm.tsx';

const w = words.chart;
const TransposeDialog = lazy(() => import('./TransposeDialog.tsx'));

/** A fault is said when typing pauses for a moment: it may be put right with the next letter. */
const FAULT_SAID_AFTER_MS = 700;

/** What is wrong in the bar that is written, said to those who hear the screen. */
function SpokenFault() {
  const edit = useStore($barEdit);
  const page = useStore($page);
  const issues = edit === null ? [] : (page.bars[edit.index]?.issues ?? []);
  const text =
    edit?.isKeptBack === true
      ? w.keptBack
      : issues.map((issue) => `${messageOf(issue)}; ${remedyOf(issue)}.`).join(' ');
  const [said, setSaid] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setSaid(text), text === '' ? 0 : FAULT_SAID_AFTER_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return (
    <p role="status" className="unseen" data-fault-said>
      {said}
    </p>
  );
}

/** The chart, to be written: its heading, its bars, and its text beside them. */
export default memo(function ChartScreen() {
  const isOpen = useStore($isOpen);
  const canUndo = useStore($canUndo);
  const canRedo = useStore($canRedo);
  const isReadable = useStore($isReadable);
  const [isTextShown, setIsTextShown] = useState(true);
  const [isTransposing, setIsTransposing] = useState(false);
  const [said, setSaid] = useState({ text: '', turn: 0 });
  // said twice in a row, it must be another text to be heard again
  const say = useCallback((text: string) => setSaid((last) => ({ text, turn: last.turn + 1 })), []);
  useEffect(() => {
    // a new chart takes what is typed at once
    if (isOpen && $open.get()?.chartText === EMPTY_CHART) askForFocus();
  }, [isOpen]);
  if (!isOpen) return null;
  return (
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions -- undo by keyboard, wherever on the screen
    <div
      role="group"
      aria-label={w.title}
      className={styles.screen}
      data-text={isTextShown}
      onKeyDown={(event) => {
        const isCommand = (event.ctrlKey || event.metaKey) && !event.altKey;
        const key = event.key.toLowerCase();
        if (!isCommand || event.defaultPrevented || (key !== 'z' && key !== 'y')) return;
        event.preventDefault();
        const isBack = key === 'z' && !event.shiftKey;
        if (isBack) undoChange();
        else redoChange();
        say(isBack ? w.said.undone : w.said.redone);
      }}
    >
      <div className={styles.head}>
        <h1 className="unseen">{w.title}</h1>
        <ChartHeading />
        <div className={styles.changes} role="group" aria-label={w.changes}>
          <button
            type="button"
            disabled={!canUndo}
            onClick={() => {
              undoChange();
              say(w.said.undone);
            }}
          >
            {w.undo}
          </button>
          <button
            type="button"
            disabled={!canRedo}
            onClick={() => {
              redoChange();
              say(w.said.redone);
            }}
          >
            {w.redo}
          </button>
          <button type="button" disabled={!isReadable} onClick={() => setIsTransposing(true)}>
            {w.transpose}
          </button>
          <button
            type="button"
            className={styles.textSwitch}
            aria-expanded={isTextShown}
            onClick={() => setIsTextShown(!isTextShown)}
          >
            {isTextShown ? w.hideText : w.showText}
          </button>
        </div>
      </div>
      <div className={styles.page}>
        <OpenKey say={say} />
        <ShownElsewhere say={say} />
        <p className="soft">{w.howTo}</p>
        <p className="unseen" id="chart-grid-help">
          {w.gridHelp}
        </p>
        <ChartGrid say={say} />
        <SymbolHelp />
      </div>
      <aside className={styles.side}>
        <BarTools say={say} />
        {isTextShown && <TextForm say={say} />}
      </aside>
      <SpokenFault />
      <p role="status" className="unseen">
        {said.text}
        {said.turn % 2 === 0 ? '' : '\u00A0'}
      </p>
      {isTransposing && (
        <Suspense fallback={null}>
          <TransposeDialog close={() => setIsTransposing(false)} say={say} />
        </Suspense>
      )}
    </div>
  );
});
