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
import { $settings, changeSettings } from '../../features/settings/index.ts';
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
  const { chartText: isTextShown } = useStore($settings);
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
      data-text={isTextShown || undefined}
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
      <div className={styles.body}>
        <div className={styles.page}>
          <h1 className="unseen">{w.title}</h1>
          <ChartHeading />
          <OpenKey say={say} />
          <ShownElsewhere say={say} />
          <p className="unseen" id="chart-grid-help">
            {w.howTo} {w.gridHelp}
          </p>
          <ChartGrid say={say} />
          <SymbolHelp />
        </div>
        {isTextShown && (
          <aside className={styles.side}>
            <TextForm say={say} />
          </aside>
        )}
      </div>
      <BarTools say={say}>
        <Changes say={say} isTextShown={isTextShown} onTranspose={() => setIsTransposing(true)} />
      </BarTools>
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

interface ChangesProps {
  readonly say: (text: string) => void;
  readonly isTextShown: boolean;
  readonly onTranspose: () => void;
}

/** Back a step and on again, another key, and the text beside the bars. */
function Changes({ say, isTextShown, onTranspose }: ChangesProps) {
  const canUndo = useStore($canUndo);
  const canRedo = useStore($canRedo);
  const isReadable = useStore($isReadable);
  return (
    <div role="group" aria-label={w.changes} className={styles.changes}>
      <button
        type="button"
        className="plain"
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
        className="plain"
        disabled={!canRedo}
        onClick={() => {
          redoChange();
          say(w.said.redone);
        }}
      >
        {w.redo}
      </button>
      <button type="button" className="plain" disabled={!isReadable} onClick={onTranspose}>
        {w.transpose}
      </button>
      <button
        type="button"
        className="plain"
        aria-expanded={isTextShown}
        onClick={() => changeSettings({ chartText: !isTextShown })}
      >
        {isTextShown ? w.hideText : w.showText}
      </button>
    </div>
  );
}
