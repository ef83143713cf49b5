import { CHART_ISSUES } from './chart-issues.ts';
import { shownText } from '../plain-text.ts';
import { FILE_ISSUES } from './file-issues.ts';
import { HAND_ISSUES } from './hand-issues.ts';
import type { IssueArgs, IssueEntry } from './issue-entry.ts';
import { MUSICXML_ISSUES } from './musicxml-issues.ts';

export type { IssueArgs } from './issue-entry.ts';

/** Where in the input something is wrong; counted from 1, bars as on paper. Absent where it has no such place. */
export interface Place {
  readonly line?: number;
  readonly column?: number;
  readonly bar?: number;
}

/** Every issue the product can raise. One registry, so that each message is written once. Codes: `stage.what-is-wrong`. */
export const ISSUES = {
  ...CHART_ISSUES,
  ...MUSICXML_ISSUES,
  ...HAND_ISSUES,
  ...FILE_ISSUES,
} as const satisfies Record<string, IssueEntry>;

export type IssueCode = keyof typeof ISSUES;

/** Something wrong with an input. An expected failure is a value, never thrown. */
export interface Issue {
  readonly code: IssueCode;
  readonly args: IssueArgs;
  readonly place: Place;
}

/** A value, or everything that is wrong with the input. Warnings come with a value that lost something. */
export type Result<Value> =
  | { readonly ok: true; readonly value: Value; readonly warnings: readonly Issue[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

export function severityOf(issue: Issue): 'error' | 'warning' {
  return ISSUES[issue.code].severity;
}

/** What a message quotes comes from outside: nothing in it is obeyed by what shows it. */
function shownArgs(args: IssueArgs): IssueArgs {
  return Object.fromEntries(
    Object.entries(args).map(([name, value]) => [name, typeof value === 'string' ? shownText(value) : value]),
  );
}

/** What is wrong, in English for a musician; on one line, safe to show. */
export function messageOf(issue: Issue): string {
  const entry: IssueEntry = ISSUES[issue.code];
  return entry.message(shownArgs(issue.args));
}

/** What would be right, in English for a musician; on one line, safe to show. */
export function remedyOf(issue: Issue): string {
  const entry: IssueEntry = ISSUES[issue.code];
  return entry.remedy(shownArgs(issue.args));
}
