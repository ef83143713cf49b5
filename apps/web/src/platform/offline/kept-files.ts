import * as v from 'valibot';

/** A file the workbench is made of. */
export interface BuiltFile {
  /** Relative to the page. */
  readonly path: string;
  readonly bytes: number;
}

/** Where files are kept that come after the first screen; the service worker fills it (vite.config.ts). */
const CACHE = 'fivespan-files';

const FILES = v.array(v.object({ path: v.pipe(v.string(), v.startsWith('assets/')), bytes: v.number() }));

const addressOf = ({ path }: BuiltFile): string => new URL(path, document.baseURI).href;

/** Every file of the version that is open. @throws Error where the list cannot be had */
export async function builtFiles(): Promise<readonly BuiltFile[]> {
  const answer = await fetch('./files.json');
  if (!answer.ok) throw new Error(`files.json: ${answer.status}`);
  return v.parse(FILES, await answer.json());
}

/** Those of the files that open without a network. */
export async function keptFiles(files: readonly BuiltFile[]): Promise<readonly BuiltFile[]> {
  const kept = await Promise.all(
    files.map(async (file) => (await caches.match(addressOf(file), { ignoreVary: true })) !== undefined),
  );
  return files.filter((_file, index) => kept[index]);
}

/** Keeps one file; counts its bytes as they come. @throws the signal's reason, or an Error where it cannot be had */
export async function keepFile(
  file: BuiltFile,
  came: (bytes: number) => void,
  signal: AbortSignal | undefined,
): Promise<void> {
  const answer = await fetch(addressOf(file), { signal: signal ?? null });
  if (!answer.ok || answer.body === null) throw new Error(`${file.path}: ${answer.status}`);
  const cache = await caches.open(CACHE);
  const counted = answer.body.pipeThrough(
    new TransformStream<Uint8Array, Uint8Array>({
      transform(piece, stream) {
        came(piece.byteLength);
        stream.enqueue(piece);
      },
    }),
  );
  await cache.put(addressOf(file), new Response(counted, { headers: answer.headers }));
}

/** Lets go of files of versions that are gone. */
export async function dropStrangers(files: readonly BuiltFile[]): Promise<void> {
  const ours = new Set(files.map(addressOf));
  const cache = await caches.open(CACHE);
  for (const request of await cache.keys()) if (!ours.has(request.url)) await cache.delete(request);
}
