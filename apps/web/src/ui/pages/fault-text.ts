import type { OrderFault } from '../../features/handing-out/index.ts';

/** A fault in words. */
export function faultText(
  fault: OrderFault,
  texts: {
    readonly offline: string;
    readonly memory: string;
    readonly disk: string;
    readonly other: (message: string) => string;
  },
): string {
  return fault.kind === 'other' ? texts.other(fault.message) : texts[fault.kind];
}
