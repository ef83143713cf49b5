import type { DeckReport } from './messages.ts';

/** Reports kept: what is heard now was reported at most an output latency ago, which Bluetooth makes half a second long. */
const KEPT = 64;

/** Where a deck is at any moment of the audio clock, from what it reported. Reports come before what they tell is heard. */
export class DeckClock {
  #reports: readonly DeckReport[] = [];

  add(report: DeckReport): void {
    this.#reports = [...this.#reports.filter((each) => each.contextSeconds < report.contextSeconds), report].slice(
      -KEPT,
    );
  }

  /**
   * @param contextSeconds a moment of the audio clock
   * @returns the place in the piece then, in seconds, and how the deck stood; undefined before the first report
   */
  at(contextSeconds: number): Pick<DeckReport, 'piece' | 'positionSeconds' | 'state' | 'loopPasses'> | undefined {
    const report = this.#reports.findLast((each) => each.contextSeconds <= contextSeconds) ?? this.#reports[0];
    if (report === undefined) return undefined;
    const since = Math.max(0, contextSeconds - report.contextSeconds);
    return { ...report, positionSeconds: report.positionSeconds + since * report.rate };
  }
}
