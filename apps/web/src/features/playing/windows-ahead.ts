import type { LoopSeconds, StretchSeconds } from '../../platform/audio/index.ts';
import { WINDOW_SECONDS, windowsIn } from '../sound/windows.ts';

/** Windows on the deck at a time, the one that sounds included: 16 s of music ahead at the least, at the fastest 10 s of a clock. */
const WINDOWS_KEPT = 5;

const isIn = (stretch: StretchSeconds | null, seconds: number): boolean =>
  stretch !== null && seconds >= stretch.fromSeconds && seconds < stretch.toSeconds;

/**
 * The windows that will be needed next, in the order in which they will sound.
 * @example windowsAhead({ positionSeconds: 9, endSeconds: 100, jump: null, loop: { fromSeconds: 1, toSeconds: 11, rest: null } }) // → [2, 0, 1]
 */
export function windowsAhead({
  positionSeconds,
  endSeconds,
  jump,
  loop,
}: {
  readonly positionSeconds: number;
  readonly endSeconds: number;
  readonly jump: { readonly leave: number; readonly enter: number } | null;
  readonly loop: LoopSeconds | null;
}): readonly number[] {
  const last = windowsIn(endSeconds) - 1;
  const ahead = new Set<number>();
  let at = Math.min(positionSeconds, endSeconds);
  const rest = loop?.rest ?? null;
  let jumps = jump !== null && at < jump.leave ? jump : null;
  // more turns than windows: a short loop comes round many times without asking for another
  for (let step = 0; step < WINDOWS_KEPT * 2 && ahead.size < WINDOWS_KEPT; step++) {
    const window = Math.min(last, Math.floor(at / WINDOW_SECONDS));
    ahead.add(window);
    const ends = (window + 1) * WINDOW_SECONDS;
    if (jumps !== null && jumps.leave <= ends) {
      at = jumps.enter;
      jumps = null;
    } else if (rest !== null && isIn(rest, at) && rest.toSeconds <= ends) at = loop?.fromSeconds ?? ends;
    else if (loop !== null && !isIn(rest, at) && at <= loop.toSeconds && loop.toSeconds <= ends)
      at = (rest ?? loop).fromSeconds;
    else if (window === last) break;
    else at = ends;
  }
  return [...ahead];
}
