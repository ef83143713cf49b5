import type { Issue } from '@fivespan/core';
import { words } from '../words/index.ts';
import { issueText } from './issue-text.ts';
import styles from './Lessons.module.css';

/** Longer lists are not read. */
const MOST_SHOWN = 6;

/** What is wrong, where, and what would be right. */
export function IssueList({ issues }: { readonly issues: readonly Issue[] }) {
  const texts = [...new Set(issues.map(issueText))];
  return (
    <ul className={styles.issues}>
      {texts.slice(0, MOST_SHOWN).map((text) => (
        <li key={text}>{text}</li>
      ))}
      {texts.length > MOST_SHOWN && <li>{words.lessons.moreIssues(texts.length - MOST_SHOWN)}</li>}
    </ul>
  );
}
