import { constants } from 'node:os';

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** The user, or the machine, asked the program to stop. */
export class Interrupted extends Error {
  override readonly name = 'Interrupted';
  /** As a shell expects it: 128 and the signal's number. Common practice. */
  readonly exit: number;
  constructor(signal: (typeof SIGNALS)[number]) {
    super('interrupted');
    this.exit = 128 + constants.signals[signal];
  }
}

/**
 * Work that clears up after itself when asked to stop (Ctrl-C, or a signal that ends programs), instead of being cut off.
 * @param work gets the signal that says so; its reason is an Interrupted, to be thrown on
 */
export async function interruptible<Value>(work: (signal: AbortSignal) => Promise<Value>): Promise<Value> {
  const controller = new AbortController();
  const stop = (signal: NodeJS.Signals): void => controller.abort(new Interrupted(signal as (typeof SIGNALS)[number]));
  for (const signal of SIGNALS) process.on(signal, stop);
  try {
    return await work(controller.signal);
  } finally {
    for (const signal of SIGNALS) process.off(signal, stop);
  }
}
