import { messageOf, remedyOf, type Issue } from '@fivespan/core';
import { askForFocus, suggestionOf, takeSuggestion } from '../../features/chart-editing/index.ts';
import { words } from '../words/index.ts';
import styles from './FaultNote.module.css';

/** Writes what would be right in a fault's place, where that is one thing. */
export function SuggestionButton({ issue, onTaken }: { readonly issue: Issue; readonly onTaken?: () => void }) {
  const suggestion = suggestionOf(issue);
  if (suggestion === null) return null;
  return (
    <button type="button" className={styles.take} onClick={() => takeSuggestion(issue) && onTaken?.()}>
      {words.chart.take(suggestion)}
    </button>
  );
}

/** What is wrong and what would be right, with its sign; `canTake` where that can be put in with one press. */
export function FaultNote({
  issues,
  id,
  canTake = false,
}: {
  readonly issues: readonly Issue[];
  readonly id?: string;
  readonly canTake?: boolean;
}) {
  return (
    <>
      <span className={styles.note} id={id}>
        {issues.map((issue, index) => (
          <span className={styles.fault} key={index}>
            <span className={styles.sign} aria-hidden="true">
              ✕
            </span>
            <span>
              {messageOf(issue)}; <span className={styles.right}>{remedyOf(issue)}</span>
            </span>
          </span>
        ))}
      </span>
      {canTake && issues.map((issue, index) => <SuggestionButton key={index} issue={issue} onTaken={askForFocus} />)}
    </>
  );
}
