/**
 * Long work in many short jobs: between two of them the worker does what a hand waits for, which a single long job would not let
 * it. What is half made stays in the worker under a number; a worker that was ended has lost it.
 */
import type { Job, JobWatch } from '../../platform/workers/index.ts';

/** An order with the number under which what is half made of it is kept; a number is used once. */
export interface PiecewiseOrder<Order> {
  readonly number: number;
  readonly order: Order;
}

/** How far work is, where it knows. */
export interface PieceStep {
  readonly done: number;
  readonly total: number;
}

/** What a job has done: so far, or all of it. */
export type Piecewise =
  // null where it does not know how much there is
  { readonly kind: 'so far'; readonly step: PieceStep | null } | { readonly kind: 'made'; readonly bytes: Uint8Array };

/** The work itself: steps, and the bytes at their end. */
export type PieceSteps = Generator<PieceStep | void, Uint8Array | Promise<Uint8Array>, undefined>;

/** The three jobs of one kind of work. */
export interface PiecewiseJobs<Order> {
  readonly begin: Job<PiecewiseOrder<Order>, Piecewise>;
  readonly goOn: Job<number, Piecewise>;
  readonly drop: Job<number, true>;
}

/**
 * Makes the jobs of one kind of work.
 * @param start gets everything ready; undefined where it was cancelled
 * @param stepsAJob steps of one job: together about a tenth of a second
 */
export function piecewiseJobs<Order>(
  start: (order: Order, watch: JobWatch) => Promise<PieceSteps | undefined>,
  stepsAJob: number,
): PiecewiseJobs<Order> {
  const halfMade = new Map<number, PieceSteps>();
  return {
    begin: async ({ number, order }, watch) => {
      const steps = await start(order, watch);
      await watch.breathe();
      if (steps === undefined || watch.cancelled()) return undefined;
      halfMade.set(number, steps);
      return { value: { kind: 'so far', step: null } };
    },
    goOn: async (number) => {
      const steps = halfMade.get(number);
      if (steps === undefined) throw new Error('what was half made is gone');
      let last: PieceStep | null = null;
      for (let count = 0; count < stepsAJob; count++) {
        const step = steps.next();
        if (step.done === true) {
          halfMade.delete(number);
          const bytes = await step.value;
          return { value: { kind: 'made', bytes }, transfer: [bytes.buffer as ArrayBuffer] };
        }
        last = step.value ?? null;
      }
      return { value: { kind: 'so far', step: last } };
    },
    drop: async (number) => {
      halfMade.delete(number);
      return { value: true };
    },
  };
}
