import type { HeardNote } from './heard-note.ts';
import { Hearing } from './hearing.ts';
import { soundOut, soundOutNow } from './sound-out.ts';

let asking: AbortController | undefined;

/**
 * Sounds some notes at once, in place of what was heard before. Call from a key or click.
 * @param failed told where it begins to sound but cannot go on
 * @returns when they begin to sound, what is heard; undefined where they were overtaken by the next; rejects where there is no
 * sound to be had
 * @example await hear([{ startSeconds: 0, durationSeconds: 1, midi: 60, velocity: 80 }])
 */
export async function hear(
  notes: readonly HeardNote[],
  failed: (error: unknown) => void = reportError,
): Promise<Hearing | undefined> {
  asking?.abort(new DOMException('overtaken', 'AbortError'));
  const { signal } = (asking = new AbortController());
  try {
    // where it is open nothing is waited for: what is asked for first is what a worker takes up first, and an ear comes before an eye
    const open = soundOutNow();
    const out = open ?? (await soundOut());
    if (open === undefined) await out.wake();
    else void out.wake();
    const hearing = new Hearing(out, notes, signal, failed);
    await hearing.begin();
    return signal.aborted ? undefined : hearing;
  } catch (error) {
    if (signal.aborted) return undefined;
    throw error;
  }
}

/** Silences what `hear` began; where nothing was heard yet, nothing is opened for it. */
export function stopHearing(): void {
  if (asking === undefined) return;
  asking.abort(new DOMException('stopped', 'AbortError'));
  asking = undefined;
  void soundOut().then(
    (out) => out.order('desk', { kind: 'pause' }),
    () => undefined,
  );
}
