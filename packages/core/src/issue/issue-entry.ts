/** What an issue says, made from arguments. */
export type IssueArgs = Readonly<Record<string, string | number>>;

/** One code's entry in the registry: words for a musician. */
export interface IssueEntry {
  readonly severity: 'error' | 'warning';
  /** What is wrong. */
  readonly message: (args: IssueArgs) => string;
  /** What would be right. */
  readonly remedy: (args: IssueArgs) => string;
}
