import { goInstead, type Address } from '../../platform/address/index.ts';

/** The page is being opened until its first place is shown. */
let isArriving = true;

/** Sends someone who opened the page on to where they will want to be: they have not gone anywhere yet. */
export function arriveAt(address: Address): void {
  isArriving = true;
  goInstead(address);
}

/** Whether the place that is now shown is one the page was opened at, and not one that somebody went to. True once for each. */
export function hasArrived(): boolean {
  const was = isArriving;
  isArriving = false;
  return was;
}
