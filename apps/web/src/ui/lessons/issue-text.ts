import { messageOf, remedyOf, type Issue } from '@fivespan/core';
import { words } from '../words/index.ts';

/** An issue in one sentence: where, what is wrong, what would be right. */
export function issueText(issue: Issue): string {
  const place = words.lessons.place(issue.place.line, issue.place.bar);
  return `${place === '' ? '' : `${place}: `}${messageOf(issue)}; ${remedyOf(issue)}`;
}
