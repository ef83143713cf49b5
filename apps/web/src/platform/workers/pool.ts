import type { Progress } from '@fivespan/core';
import type { WorkerOrder, WorkerReport } from './messages.ts';

/** Who goes first where jobs wait: what a hand or an eye waits for, then what an ear waits for, then files. */
export const URGENCIES = ['now', 'soon', 'later'] as const;
export type Urgency = (typeof URGENCIES)[number];

export interface JobOptions {
  readonly urgency?: Urgency;
  /** Ends the job: it is taken from the queue, or told to stop. The promise then rejects with the signal's reason. */
  readonly signal?: AbortSignal;
  readonly report?: Progress['report'];
  /** Jobs of one name go to the same worker, which keeps what it has made (rendered notes, an open engraver). */
  readonly home?: string;
  /** The longest it may run once a worker has begun it; then its worker is ended, and the promise rejects with a TimeoutError. */
  readonly limitMs?: number;
}

/** A job that has ended, for those who ask what took so long. */
export interface EndedJob {
  readonly job: string;
  readonly urgency: Urgency;
  readonly end: Ending['kind'];
  /** From when it was asked for, and from when a worker took it. */
  readonly waitedMs: number;
  readonly tookMs: number;
}

const MOST_REMEMBERED = 100;

interface Waiting {
  readonly number: number;
  readonly job: string;
  readonly order: unknown;
  readonly urgency: Urgency;
  readonly home: string | undefined;
  readonly limitMs: number | undefined;
  readonly report: Progress['report'];
  readonly askedAtMs: number;
  readonly settle: (end: Ending) => void;
}

/** How a job ends: as its worker says, or because its time is over. */
type Ending = Exclude<WorkerReport, { kind: 'progress' }> | { readonly kind: 'out of time' };

interface Hand {
  readonly worker: Worker;
  readonly homes: Set<string>;
  busy: Waiting | undefined;
  /** When it took what it is busy with. */
  tookAtMs: number;
}

/** Cores less one: the page itself needs one, so that typing never waits. At least one worker, on a single core too. */
export function mostWorkers(): number {
  return Math.max(1, (navigator.hardwareConcurrency || 2) - 1);
}

/**
 * While keys go down, files wait: a worker that computes takes a core from whoever types. A piece of them is taken up all the same at
 * least this often, so that a pack gets on however long one writes.
 */
const QUIET_AFTER_KEY_MS = 300;
const LATER_AT_LEAST_EVERY_MS = 2000;

/** Does jobs in workers, which are started when they are needed and kept. */
export class WorkerPool {
  readonly #make: () => Worker;
  readonly #hands: Hand[] = [];
  readonly #waiting: Waiting[] = [];
  readonly #ended: EndedJob[] = [];
  #last = 0;
  #mayStart = false;
  #lastKeyAtMs = -Infinity;
  #lastLaterAtMs = -Infinity;
  #isHeld = false;

  /**
   * @param make starts a worker that calls serveJobs
   * @param after no worker is started before: the first screen's own script goes first
   */
  constructor(make: () => Worker, after: Promise<void> = Promise.resolve()) {
    this.#make = make;
    // a page has keys; what a check makes a pool in may not
    globalThis.addEventListener?.('keydown', () => (this.#lastKeyAtMs = performance.now()), { capture: true });
    void after.then(() => {
      this.#mayStart = true;
      this.#giveOut();
    });
  }

  /** Runs a job of the worker's table. Rejects with the signal's reason when cancelled, with an Error when it failed. */
  // oxlint-disable-next-line typescript/no-unnecessary-type-parameters -- who asks names both, to be held to them
  run<Order, Value>(job: string, order: Order, options: JobOptions = {}): Promise<Value> {
    const { urgency = 'soon', signal, home, limitMs } = options;
    const report: Progress['report'] = (done, total) => options.report?.(done, total);
    const number = ++this.#last;
    return new Promise<Value>((resolve, reject) => {
      if (signal?.aborted === true) {
        reject(signal.reason as Error);
        return;
      }
      const cancel = (): void => {
        const place = this.#waiting.findIndex((each) => each.number === number);
        if (place >= 0) this.#waiting.splice(place, 1);
        else this.#handAt(number)?.worker.postMessage({ kind: 'cancel', number } satisfies WorkerOrder);
        reject(signal?.reason as Error);
      };
      signal?.addEventListener('abort', cancel, { once: true });
      this.#waiting.push({
        number,
        job,
        order,
        urgency,
        home,
        limitMs,
        report,
        askedAtMs: performance.now(),
        settle: (end) => {
          signal?.removeEventListener('abort', cancel);
          if (end.kind === 'done') resolve(end.value as Value);
          else if (end.kind === 'failed') reject(new Error(end.message));
          else if (end.kind === 'out of time') reject(new DOMException('it took too long', 'TimeoutError'));
          else reject((signal?.reason as Error | undefined) ?? new DOMException('cancelled', 'AbortError'));
        },
      });
      this.#giveOut();
    });
  }

  /** The last jobs that have ended, oldest first. */
  recentJobs(): readonly EndedJob[] {
    return [...this.#ended];
  }

  #remember({ job, urgency, askedAtMs }: Waiting, end: EndedJob['end'], tookAtMs: number): void {
    const waitedMs = Math.round(tookAtMs - askedAtMs);
    this.#ended.push({ job, urgency, end, waitedMs, tookMs: Math.round(performance.now() - tookAtMs) });
    if (this.#ended.length > MOST_REMEMBERED) this.#ended.shift();
  }

  #handAt(number: number): Hand | undefined {
    return this.#hands.find((hand) => hand.busy?.number === number);
  }

  /** The waiting job that goes first among those a worker may take. */
  #nextFor(hand: Hand | undefined): Waiting | undefined {
    const mayTake = ({ home }: Waiting): boolean =>
      home === undefined ||
      hand?.homes.has(home) === true ||
      !this.#hands.some((other) => other !== hand && other.homes.has(home));
    for (const urgency of URGENCIES) {
      const found = this.#waiting.find((each) => each.urgency === urgency && mayTake(each));
      if (found === undefined) continue;
      if (urgency !== 'later' || !this.#mustWaitForKeys()) return found;
    }
    return undefined;
  }

  /** Whether somebody types, so that files wait; they are looked at again when the keys rest. */
  #mustWaitForKeys(): boolean {
    const now = performance.now();
    if (now - this.#lastKeyAtMs >= QUIET_AFTER_KEY_MS || now - this.#lastLaterAtMs >= LATER_AT_LEAST_EVERY_MS) {
      return false;
    }
    if (!this.#isHeld) {
      this.#isHeld = true;
      setTimeout(() => {
        this.#isHeld = false;
        this.#giveOut();
      }, QUIET_AFTER_KEY_MS);
    }
    return true;
  }

  #giveOut(): void {
    for (const hand of this.#hands) if (hand.busy === undefined) this.#give(hand);
    while (this.#mayStart && this.#hands.length < mostWorkers() && this.#nextFor(undefined) !== undefined) {
      const hand = this.#start();
      this.#hands.push(hand);
      this.#give(hand);
    }
  }

  #give(hand: Hand): void {
    const next = this.#nextFor(hand);
    if (next === undefined) return;
    this.#waiting.splice(this.#waiting.indexOf(next), 1);
    hand.busy = next;
    hand.tookAtMs = performance.now();
    if (next.urgency === 'later') this.#lastLaterAtMs = hand.tookAtMs;
    if (next.home !== undefined) hand.homes.add(next.home);
    hand.worker.postMessage({
      kind: 'run',
      number: next.number,
      job: next.job,
      order: next.order,
    } satisfies WorkerOrder);
    if (next.limitMs !== undefined) {
      setTimeout(() => {
        // a job that does not listen can be stopped in no other way
        if (hand.busy === next) this.#lose(hand, { kind: 'out of time' });
      }, next.limitMs);
    }
  }

  /** Ends a worker with the job it has; the next job starts another. */
  #lose(hand: Hand, ending: Ending): void {
    const place = this.#hands.indexOf(hand);
    if (place >= 0) this.#hands.splice(place, 1);
    hand.worker.terminate();
    const { busy } = hand;
    hand.busy = undefined;
    if (busy !== undefined) this.#remember(busy, ending.kind, hand.tookAtMs);
    busy?.settle(ending);
    this.#giveOut();
  }

  #start(): Hand {
    const hand: Hand = { worker: this.#make(), homes: new Set(), busy: undefined, tookAtMs: 0 };
    const end = (report: Exclude<WorkerReport, { kind: 'progress' }>): void => {
      const { busy } = hand;
      if (busy?.number !== report.number) return;
      hand.busy = undefined;
      this.#remember(busy, report.kind, hand.tookAtMs);
      busy.settle(report);
      this.#giveOut();
    };
    hand.worker.addEventListener('message', ({ data }: MessageEvent<WorkerReport>) => {
      if (data.kind !== 'progress') end(data);
      else if (hand.busy?.number === data.number) hand.busy.report(data.done, data.total);
    });
    // a worker that fails as a whole (out of memory, its file gone) ends its job and is replaced by the next
    hand.worker.addEventListener('error', (event) => {
      event.preventDefault();
      const message = event.message === '' ? 'the worker stopped' : event.message;
      this.#lose(hand, { kind: 'failed', number: hand.busy?.number ?? 0, message });
    });
    return hand;
  }
}
