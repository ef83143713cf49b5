import { createReadStream } from 'node:fs';
import { open, stat, writeFile, type FileHandle } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { basename, extname, join, normalize, sep } from 'node:path';
import { reasonOf } from '../fault.ts';
import type { VoiceFile } from './film-voice.ts';

/** Media types of the workbench's files. Source: IANA's register. */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.mjs': 'text/javascript',
  '.css': 'text/css',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
};

/** Where the page sends what it makes. */
export const FILM_PATH = '/-/film';
/** Where it fetches a recording, its hash behind it. */
export const VOICE_PATH = '/-/voice/';

/** The most that one piece of a film has. */
const LARGEST_PIECE_BYTES = 256_000_000;

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  let bytes = 0;
  for await (const part of request) {
    parts.push(part as Buffer);
    bytes += (part as Buffer).length;
    if (bytes > LARGEST_PIECE_BYTES) throw new RangeError('a piece of the film is too large');
  }
  return Buffer.concat(parts);
}

/**
 * Serves the workbench's files to one browser on this machine and takes the film that it sends back, piece by piece, at any place of
 * the file.
 */
export class FilmServer {
  readonly #root: string;
  readonly #folder: string;
  readonly #voices: readonly VoiceFile[];
  readonly #server: Server;
  #film: FileHandle | undefined;
  /** What stood in the way of writing. */
  fault: string | undefined;

  private constructor(root: string, folder: string, voices: readonly VoiceFile[]) {
    this.#root = root;
    this.#folder = folder;
    this.#voices = voices;
    this.#server = createServer((request, response) => void this.#answer(request, response));
  }

  /** @param root the workbench's built files @param folder where the film goes: there is a file `film` in it then */
  static async open(root: string, folder: string, voices: readonly VoiceFile[]): Promise<FilmServer> {
    const server = new FilmServer(root, folder, voices);
    server.#film = await open(join(folder, 'film'), 'w');
    await new Promise<void>((resolve, reject) => {
      server.#server.once('error', reject);
      server.#server.listen(0, '127.0.0.1', resolve);
    });
    return server;
  }

  get url(): string {
    const address = this.#server.address();
    return `http://127.0.0.1:${typeof address === 'object' && address !== null ? address.port : 0}`;
  }

  async close(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
    await this.#film?.close();
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    try {
      const url = new URL(request.url ?? '/', this.url);
      // only the page that was served here may write
      if (request.method === 'POST' && url.pathname === FILM_PATH && request.headers.origin === this.url) {
        await this.#take(url, await bodyOf(request));
        response.end();
      } else if (request.method === 'GET') await this.#serve(decodeURIComponent(url.pathname), response);
      else response.writeHead(405).end();
    } catch (error) {
      this.fault ??= reasonOf(error);
      response.writeHead(500).end(this.fault);
    }
  }

  async #take(url: URL, bytes: Buffer): Promise<void> {
    const name = url.searchParams.get('name');
    if (name !== null) {
      await writeFile(join(this.#folder, basename(name)), bytes);
      return;
    }
    let at = Number(url.searchParams.get('at'));
    for (let done = 0; done < bytes.length;) {
      const { bytesWritten } = (await this.#film?.write(bytes, done, bytes.length - done, at)) ?? { bytesWritten: 0 };
      done += bytesWritten;
      at += bytesWritten;
    }
  }

  async #serve(path: string, response: ServerResponse): Promise<void> {
    const voice = this.#voices.find(({ hash }) => path === VOICE_PATH + hash);
    const file = voice?.path ?? normalize(join(this.#root, path));
    const about =
      voice !== undefined || file.startsWith(this.#root + sep) ? await stat(file).catch(() => undefined) : undefined;
    if (about?.isFile() !== true) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, {
      'Content-Type': TYPES[extname(file)] ?? 'application/octet-stream',
      'Content-Length': about.size,
    });
    createReadStream(file).pipe(response);
  }
}
