import { messageOf, remedyOf, type Issue } from '@fivespan/core';
import { useLayoutEffect, useRef } from 'react';
import { $page, offsetOf, redoChange, undoChange, writeText } from '../../features/chart-editing/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './TextForm.module.css';

const w = words.chart;
/** More faults than anybody puts right from one list. */
const MOST_SHOWN = 40;

/** Where two texts differ: after the change, in the newer. */
function endOfChange(before: string, after: string): number {
  const shorter = Math.min(before.length, after.length);
  let tail = 0;
  while (tail < shorter && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  return after.length - tail;
}

/** The chart as text, its lines numbered and marked where something is wrong. */
export function TextForm({ say }: { readonly say: (text: string) => void }) {
  const open = useStore($open);
  const { places } = useStore($page);
  const area = useRef<HTMLTextAreaElement>(null);
  const gutter = useRef<HTMLDivElement>(null);
  /** Where the caret is put once the text is as it was, or will be. */
  const caret = useRef<number | null>(null);
  useLayoutEffect(() => {
    if (caret.current === null || area.current === null) return;
    area.current.setSelectionRange(caret.current, caret.current);
    caret.current = null;
  });
  if (open === null) return null;
  const { chartText } = open;
  // a chart that is yet to be written is nothing wrong
  const issues = open.issues.filter(({ code }) => code !== 'chart.empty');
  // a line break of two characters would be one in the field: columns and caret would differ
  const lines = chartText.split(/\r\n|\n|\r/u);
  const shown = lines.join('\n');
  const faultyLines = new Set(issues.map((issue) => issue.place.line));

  const step = (back: boolean): void => {
    const before = shown;
    if (back) undoChange();
    else redoChange();
    const after = ($open.get()?.chartText ?? '').replaceAll(/\r\n|\r/gu, '\n');
    caret.current = endOfChange(before, after);
    say(back ? w.said.undone : w.said.redone);
  };
  const goTo = (issue: Issue): void => {
    const field = area.current;
    if (field === null) return;
    const inText = offsetOf(chartText, places.lineStarts, issue);
    const start = chartText.slice(0, inText).replaceAll(/\r\n/gu, '\n').length;
    const length = /^[^\s|]*/u.exec(shown.slice(start))?.[0].length ?? 0;
    field.focus();
    field.setSelectionRange(start, start + length);
    field.scrollTop = Math.max(0, ((issue.place.line ?? 1) - 4) * (field.scrollHeight / Math.max(1, lines.length)));
  };

  return (
    <section aria-label={w.textForm} className={styles.form}>
      <h2 id="text-form-name">{w.textForm}</h2>
      <p className="soft" id="text-form-help">
        {w.textHelp}
      </p>
      <div className={styles.sheet}>
        <div className={styles.gutter} ref={gutter} aria-hidden="true">
          {lines.map((_, index) => (
            <div key={index} className={faultyLines.has(index + 1) ? styles.faulty : undefined}>
              {faultyLines.has(index + 1) ? '✕' : ''} {index + 1}
            </div>
          ))}
        </div>
        <textarea
          ref={area}
          className={styles.text}
          aria-labelledby="text-form-name"
          aria-describedby="text-form-help text-form-faults"
          aria-invalid={issues.length > 0 || undefined}
          value={shown}
          rows={Math.min(28, Math.max(12, lines.length + 1))}
          wrap="off"
          spellCheck={false}
          autoCapitalize="off"
          autoComplete="off"
          onChange={(event) => writeText(event.currentTarget.value, event.timeStamp)}
          onScroll={(event) => {
            if (gutter.current !== null) gutter.current.scrollTop = event.currentTarget.scrollTop;
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
      <div id="text-form-faults" className={styles.faults}>
        <p>{issues.length > 0 ? w.faults(issues.length) : open.chart === null ? w.noBars : w.noFaults}</p>
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
              </li>
            ))}
          </ul>
        )}
      </div>
    </section>
  );
}
