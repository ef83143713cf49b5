import type { Issue, IssueArgs, IssueCode } from '../issue.ts';

/** More faults than anybody reads at once; how many more there are is said at the end. */
const MOST_LISTED = 1_000;

/** Collects what is wrong with a text, in order, bounded. */
export interface IssueList {
  add(code: IssueCode, args: IssueArgs, place: Issue['place']): void;
  /** All of them by line and column. */
  sorted(): Issue[];
}

export function issueList(): IssueList {
  const issues: Issue[] = [];
  let unlisted = 0;
  return {
    add: (code, args, place) => {
      if (issues.length < MOST_LISTED) issues.push({ code, args, place });
      else unlisted++;
    },
    sorted: () => {
      const byPlace = issues.toSorted(
        (a, b) => (a.place.line ?? 0) - (b.place.line ?? 0) || (a.place.column ?? 0) - (b.place.column ?? 0),
      );
      if (unlisted > 0) byPlace.push({ code: 'chart.more-faults', args: { count: unlisted }, place: {} });
      return byPlace;
    },
  };
}
