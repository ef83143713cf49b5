import type { Issue, IssueArgs, IssueCode } from '../issue/index.ts';

/** More faults than anybody reads at once; how many more there are is said at the end. */
const MOST_LISTED = 1_000;

/** What a message quotes is cut to this many characters. */
const LONGEST_QUOTE = 80;

function clipped(args: IssueArgs): IssueArgs {
  const clip = (value: string | number): string | number => {
    if (typeof value === 'number' || value.length <= LONGEST_QUOTE) return value;
    return `${Array.from(value.slice(0, 2 * LONGEST_QUOTE))
      .slice(0, LONGEST_QUOTE)
      .join('')}…`;
  };
  return Object.fromEntries(Object.entries(args).map(([name, value]) => [name, clip(value)]));
}

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
      if (issues.length < MOST_LISTED) issues.push({ code, args: clipped(args), place });
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
