/** How long work tells how far it is and learns that it should stop. Passed in; core has no clock and no events of its own. */
export interface Progress {
  /** Called with steps done and steps in all. */
  report(done: number, total: number): void;
  /** Whether the user has cancelled; long loops ask often. */
  cancelled(): boolean;
}

/** Progress nobody watches. */
export const UNWATCHED: Progress = { report: () => {}, cancelled: () => false };
