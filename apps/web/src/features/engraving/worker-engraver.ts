import { createEngraver, type Engraver } from '@fivespan/formats/engraving';

let opened: Promise<Engraver> | undefined;

/**
 * The engraver of this worker, started when it is first asked for: one for the screen and for the pages, since it takes a second
 * and 215 MB. After a failure (offline) it is tried again.
 */
export function workerEngraver(): Promise<Engraver> {
  opened ??= createEngraver().catch((error: unknown) => {
    opened = undefined;
    throw error;
  });
  return opened;
}
