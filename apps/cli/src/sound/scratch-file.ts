import { closeSync, openSync, readSync, writeSync } from 'node:fs';
import type { ScratchFile } from '@fivespan/sound/encode';

const bytesOf = (samples: Float32Array): Uint8Array =>
  new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);

/**
 * A file that is written from its beginning, then read from there. Sound of more than five minutes waits in one: 21 MB
 * a minute.
 */
export class FileOfSamples implements ScratchFile {
  readonly #file: number;
  #readFrom = 0;

  /** @param path where no file is yet */
  constructor(path: string) {
    this.#file = openSync(path, 'wx+');
  }

  readonly write = (samples: Float32Array): boolean => {
    try {
      return writeSync(this.#file, bytesOf(samples)) === samples.byteLength;
    } catch {
      // a full disk: the piece is mixed a second time instead
      return false;
    }
  };

  readonly read = (into: Float32Array): void => {
    const bytes = bytesOf(into);
    for (let done = 0; done < bytes.length;) {
      const count = readSync(this.#file, bytes, done, bytes.length - done, this.#readFrom);
      if (count === 0) throw new Error('the temporary file of the sound was cut off');
      done += count;
      this.#readFrom += count;
    }
  };

  close(): void {
    closeSync(this.#file);
  }
}

/** A file that grows by pieces. */
export class GrowingFile {
  readonly path: string;
  readonly #file: number;
  #bytes = 0;

  /** @param path where no file is yet */
  constructor(path: string) {
    this.path = path;
    this.#file = openSync(path, 'wx');
  }

  /** Throws what the system says where there is no room. */
  readonly add = (part: Uint8Array): void => {
    for (let done = 0; done < part.length;) done += writeSync(this.#file, part, done);
    this.#bytes += part.length;
  };

  get bytes(): number {
    return this.#bytes;
  }

  close(): void {
    closeSync(this.#file);
  }
}
