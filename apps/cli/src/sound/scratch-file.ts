import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ScratchFile } from '@fivespan/sound/encode';

const bytesOf = (samples: Float32Array): Uint8Array =>
  new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);

/**
 * A file among the system's temporary ones, for sound of more than five minutes: 21 MB a minute. Its name is taken away as soon as it
 * is open: however the program ends, nothing is left of it.
 * @returns undefined where none can be made: the piece is then mixed twice
 */
export function scratchFile(): (ScratchFile & { readonly close: () => void }) | undefined {
  let folder: string | undefined;
  let file: number | undefined;
  try {
    folder = mkdtempSync(join(tmpdir(), 'fivespan-'));
    file = openSync(join(folder, 'sound'), 'wx+');
  } catch {
    if (folder !== undefined) rmSync(folder, { recursive: true, force: true });
    return undefined;
  }
  const [at, place] = [file, folder];
  // where the system does not let go of an open file's name, it goes when the file is closed
  const forget = (): void => rmSync(place, { recursive: true, force: true, maxRetries: 1 });
  try {
    forget();
  } catch {
    // below, then
  }
  let readFrom = 0;
  let isOpen = true;
  return {
    write: (samples) => {
      try {
        return writeSync(at, bytesOf(samples)) === samples.byteLength;
      } catch {
        return false;
      }
    },
    read: (into) => {
      const bytes = bytesOf(into);
      for (let done = 0; done < bytes.length;) {
        const count = readSync(at, bytes, done, bytes.length - done, readFrom);
        if (count === 0) throw new Error('the temporary file of the sound was cut off');
        done += count;
        readFrom += count;
      }
    },
    close: () => {
      if (isOpen) closeSync(at);
      isOpen = false;
      forget();
    },
  };
}
