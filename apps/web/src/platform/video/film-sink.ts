/** Where a film goes while it is made: to whoever listens at an address (the command line), or to a file of the browser's own. */
export type SinkPlace =
  | { readonly kind: 'address'; readonly url: string }
  // in the browser's private file system
  | { readonly kind: 'own file'; readonly name: string };

/** Takes a film's bytes, at any place of the file. */
export interface FilmSink {
  readonly write: (bytes: Uint8Array<ArrayBuffer>, position: number) => Promise<void>;
  /** A whole file beside it. */
  readonly file: (name: string, bytes: Blob) => Promise<void>;
  readonly close: () => Promise<void>;
}

async function send(url: string, bytes: BodyInit): Promise<void> {
  const answer = await fetch(url, { method: 'POST', body: bytes });
  if (!answer.ok) throw new Error(await answer.text());
}

interface SyncHandle {
  write(bytes: Uint8Array, options: { readonly at: number }): number;
  truncate(size: number): void;
  flush(): void;
  close(): void;
}

/** Opens a sink. In a worker: only there a file is written at once. */
export async function openSink(place: SinkPlace): Promise<FilmSink> {
  if (place.kind === 'address') {
    const { url } = place;
    return {
      write: async (bytes, position) => await send(`${url}?at=${position}`, bytes),
      file: async (name, bytes) => await send(`${url}?name=${encodeURIComponent(name)}`, bytes),
      close: async () => undefined,
    };
  }
  const folder = await navigator.storage.getDirectory();
  const file = await folder.getFileHandle(place.name, { create: true });
  const handle = await (file as unknown as { createSyncAccessHandle(): Promise<SyncHandle> }).createSyncAccessHandle();
  handle.truncate(0);
  return {
    write: async (bytes, position) => {
      if (handle.write(bytes, { at: position }) < bytes.length) {
        throw new DOMException('the disk is full', 'QuotaExceededError');
      }
    },
    file: async () => undefined,
    close: async () => {
      handle.flush();
      handle.close();
    },
  };
}

/** A file of the browser's own, to be saved where the user wants it. In a page. */
export async function ownFile(name: string): Promise<File> {
  const folder = await navigator.storage.getDirectory();
  return await (await folder.getFileHandle(name)).getFile();
}

/** Takes a file of the browser's own away; one that is not there is no fault. */
export async function removeOwnFile(name: string): Promise<void> {
  const folder = await navigator.storage.getDirectory();
  await folder.removeEntry(name).catch(() => undefined);
}

/** Takes files of the browser's own away that a closed tab has left; one that another tab is writing stays. */
export async function removeOwnFiles(beginning: string): Promise<void> {
  const folder = await navigator.storage.getDirectory();
  const names = (folder as unknown as { keys(): AsyncIterable<string> }).keys();
  for await (const name of names) {
    const { lastModified } = await ownFile(name).catch(() => ({ lastModified: Number.POSITIVE_INFINITY }));
    if (name.startsWith(beginning) && Date.now() - lastModified > LEFT_MS) await removeOwnFile(name);
  }
}

/** A film that nothing was written to for so long is nobody's any more. */
const LEFT_MS = 600_000;
