import { messageOf, remedyOf, type Issue } from '@fivespan/core';
import { memo, useCallback, useLayoutEffect, useMemo, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { $places, $reading, offsetOf, redoChange, undoChange, writeText } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { SuggestionButton } from './FaultNote.tsx';
import styles from './TextForm.module.css';

const w = words.chart;
/** More faults than anybody puts right from one list. */
const MOST_SHOWN = 40;

/** The text as the field has it: a line break of two characters would be one there, columns and caret would differ. */
const shownOf = (text: string): string => text.replaceAll(/\r\n|\r/gu, '\n');

/** Where two texts differ: after the change, in the newer. */
function endOfChange(before: string, after: string): number {
  const shorter = Math.min(before.length, after.length);
  let tail = 0;
  while (tail < shorter && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  return after.length - tail;
}

/** Lines whose numbers are there beside those one sees, so that scrolling finds them. */
const LINES_AROUND = 40;
/** More lines than these are put in at once: as typing, Chromium takes 4 s for 1,000 of them and 16 s for 2,000 (measured). */
const MOST_PASTED_LINES = 50;
/** The height of the field in lines, and so of what one sees of it. */
const MOST_ROWS = 28;
const FEWEST_ROWS = 12;
/** The height of a line (TextForm.module.css): whole pixels, which twenty thousand times over are still those of the field. */
const LINE_REM = 1.375;

/** The numbers of the lines one sees and of some around them: a text of many thousand lines has them all to be scrolled to. */
const Gutter = memo(function Gutter({
  count,
  first,
  faulty,
}: {
  readonly count: number;
  readonly first: number;
  /** Faulty lines, from 1, in one text: the same as long as they are. */
  readonly faulty: string;
}) {
  // lines may have gone since it was scrolled
  const top = Math.max(0, Math.min(first, count - MOST_ROWS));
  const from = Math.max(0, top - LINES_AROUND);
  const to = Math.min(count, top + MOST_ROWS + LINES_AROUND);
  const faultyLines = new Set(faulty.split(' '));
  return (
    <div
      className={styles.numbers}
      style={{ padding: `${from * LINE_REM}rem 0 calc(${(count - to) * LINE_REM}rem + 24px)` }}
    >
      {Array.from({ length: to - from }, (_, offset) => {
        const line = String(from + offset + 1);
        const isFaulty = faultyLines.has(line);
        return (
          <div key={line} className={isFaulty ? styles.faulty : undefined}>
            {isFaulty ? '✕' : ''} {line}
          </div>
        );
      })}
    </div>
  );
});

const NO_ISSUES: readonly Issue[] = [];

/** What is wrong with the text, each fault leading to its place. */
const Faults = memo(function Faults({
  issues,
  hasBars,
  goTo,
}: {
  readonly issues: readonly Issue[];
  readonly hasBars: boolean;
  readonly goTo: (issue: Issue) => void;
}) {
  return (
    <div id="text-form-faults" className={styles.faults}>
      <p>{issues.length > 0 ? w.faults(issues.length) : hasBars ? w.noFaults : w.noBars}</p>
      {issues.length > 0 && (
        <ul>
          {issues.slice(0, MOST_SHOWN).map((issue, index) => (
            <li key={index}>
              <button type="button" className="plain" onClick={() => goTo(issue)}>
                <span className={styles.place}>
                  <span aria-hidden="true">✕ </span>
                  {issue.place.line === undefined ? '' : w.faultAt(issue.place.line, issue.place.column ?? 1)}
                </span>
                {messageOf(issue)}; <span className="soft">{remedyOf(issue)}</span>
              </button>
              <SuggestionButton issue={issue} onTaken={() => goTo(issue)} />
            </li>
          ))}
        </ul>
      )}
    </div>
  );
});

/** The chart as text, its lines numbered and marked where something is wrong. */
export const TextForm = memo(function TextForm({ say }: { readonly say: (text: string) => void }) {
  const reading = useStore($reading);
  const area = useRef<HTMLTextAreaElement>(null);
  const gutter = useRef<HTMLDivElement>(null);
  const [first, setFirst] = useState(0);
  /** Where the caret is put once the text is as it was, or will be. */
  const caret = useRef<number | null>(null);
  useLayoutEffect(() => {
    if (caret.current === null || area.current === null) return;
    area.current.setSelectionRange(caret.current, caret.current);
    caret.current = null;
  });
  const goTo = useCallback((issue: Issue): void => {
    const field = area.current;
    if (field === null) return;
    const { chartText } = $reading.get() ?? { chartText: '' };
    const inText = offsetOf(chartText, $places.get().lineStarts, issue);
    const start = shownOf(chartText.slice(0, inText)).length;
    const length = /^[^\s|]*/u.exec(field.value.slice(start))?.[0].length ?? 0;
    field.focus();
    field.setSelectionRange(start, start + length);
    const lines = field.value.split('\n').length;
    field.scrollTop = Math.max(0, ((issue.place.line ?? 1) - 4) * (field.scrollHeight / lines));
  }, []);
  const issues = useMemo(
    // a chart that is yet to be written is nothing wrong
    () => reading?.issues.filter(({ code }) => code !== 'chart.empty') ?? NO_ISSUES,
    [reading?.issues],
  );
  if (reading === null) return null;
  const { chartText } = reading;
  const shown = shownOf(chartText);
  const lineCount = shown.split('\n').length;
  const faultyLines = [...new Set(issues.map((issue) => issue.place.line))].join(' ');

  const step = (back: boolean): void => {
    const before = shown;
    if (back) undoChange();
    else redoChange();
    const after = shownOf($reading.get()?.chartText ?? '');
    caret.current = endOfChange(before, after);
    say(back ? w.said.undone : w.said.redone);
  };
  return (
    <section aria-label={w.textForm} className={styles.form}>
      <h2 id="text-form-name">{w.textForm}</h2>
      <p className="soft" id="text-form-help">
        {w.textHelp}
      </p>
      <div className={styles.sheet}>
        <div
          className={styles.gutter}
          ref={gutter}
          aria-hidden="true"
          style={{ width: `calc(${String(lineCount).length + 2}ch + 15px)` }}
        >
          <Gutter count={lineCount} first={first} faulty={faultyLines} />
        </div>
        <textarea
          ref={area}
          className={styles.text}
          aria-labelledby="text-form-name"
          aria-describedby="text-form-help text-form-faults"
          aria-invalid={issues.length > 0 || undefined}
          value={shown}
          rows={Math.min(MOST_ROWS, Math.max(FEWEST_ROWS, lineCount + 1))}
          wrap="off"
          spellCheck={false}
          autoCapitalize="off"
          autoComplete="off"
          onChange={(event) => writeText(event.currentTarget.value, event.timeStamp)}
          onPaste={(event) => {
            const pasted = shownOf(event.clipboardData.getData('text/plain'));
            if (pasted.split('\n').length <= MOST_PASTED_LINES) return;
            event.preventDefault();
            const { value, selectionStart, selectionEnd } = event.currentTarget;
            caret.current = selectionStart + pasted.length;
            writeText(value.slice(0, selectionStart) + pasted + value.slice(selectionEnd), event.timeStamp);
          }}
          onScroll={(event) => {
            const { scrollTop, scrollHeight } = event.currentTarget;
            const line = Math.floor((scrollTop / scrollHeight) * lineCount);
            // the numbers around are there already
            if (Math.abs(line - first) > LINES_AROUND / 2) flushSync(() => setFirst(line));
            if (gutter.current !== null) gutter.current.scrollTop = scrollTop;
          }}
          onKeyDown={(event) => {
            const isCommand = (event.ctrlKey || event.metaKey) && !event.altKey;
            const key = event.key.toLowerCase();
            if (!isCommand || (key !== 'z' && key !== 'y')) return;
            event.preventDefault();
            step(key === 'z' && !event.shiftKey);
          }}
        />
      </div>
      <Faults issues={issues} hasBars={reading.chart !== null} goTo={goTo} />
    </section>
  );
});
