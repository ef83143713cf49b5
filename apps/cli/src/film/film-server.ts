import { createReadStream } from 'node:fs';
import { open, stat, writeFile, type FileHandle } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { basename, extname, join, normalize, sep } from 'node:path';
import { reasonOf } from '../fault.ts';
import type { FilmStage, MadeFilm } from './film-order.ts';
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
const FILM_PATH = '/-/film';
/** Where it fetches a recording, its hash behind it. */
const VOICE_PATH = '/-/voice/';
/** What it asks for first: what is to be made. */
const ORDER_PATH = '/-/order';
/** What it asks for and never gets: where that ends, the page is gone. */
const PRESENCE_PATH = '/-/presence';
/** Where it says how far it is, that all is made, or why not. */
const PROGRESS_PATH = '/-/progress';
const MADE_PATH = '/-/made';
const FAILED_PATH = '/-/failed';

/** A film could not be made. */
export class FilmFault extends Error {
  override readonly name = 'FilmFault';
}

/** What a film's page is served. */
export interface FilmServed {
  /** The workbench's built files. */
  readonly root: string;
  /** Where the film goes: there is a file `film` in it then. */
  readonly folder: string;
  readonly voices: readonly VoiceFile[];
  readonly order: object;
  readonly report: (stage: FilmStage, done: number, total: number) => void;
}

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
 * Serves the workbench's files and an order to one browser on this machine and takes the film that it sends back, piece by piece, at any
 * place of the file. All that is said between the two goes this way: a browser that is driven keeps what its driver might ask for
 * (measured: 150 MB of pictures after ten minutes).
 */
export class FilmServer {
  readonly #served: FilmServed;
  readonly #server: Server;
  #film: FileHandle | undefined;
  /** What stood in the way of writing. */
  #fault: string | undefined;
  #resolve: (film: MadeFilm) => void = () => undefined;
  #reject: (fault: FilmFault) => void = () => undefined;
  /** The film when it is made; rejects with a FilmFault. */
  readonly made = new Promise<MadeFilm>((resolve, reject) => {
    this.#resolve = resolve;
    this.#reject = reject;
  });

  /** Whether the page has asked what to make. */
  isAsked = false;

  private constructor(served: FilmServed) {
    this.#served = served;
    this.#server = createServer((request, response) => void this.#answer(request, response));
    this.made.catch(() => undefined);
  }

  static async open(served: FilmServed): Promise<FilmServer> {
    const server = new FilmServer(served);
    server.#film = await open(join(served.folder, 'film'), 'w');
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
      if (request.method === 'POST' && request.headers.origin === this.url) {
        await this.#hear(url, await bodyOf(request));
        response.end();
      } else if (request.method !== 'GET') response.writeHead(405).end();
      else if (url.pathname === PRESENCE_PATH) {
        response.once('close', () => this.#reject(new FilmFault('the browser ran out of memory, or was closed')));
      } else if (url.pathname === ORDER_PATH) {
        this.isAsked = true;
        response.end(JSON.stringify(this.#order));
      } else await this.#serve(decodeURIComponent(url.pathname), response);
    } catch (error) {
      this.#fault ??= reasonOf(error);
      response.writeHead(500).end(this.#fault);
    }
  }

  get #order(): object {
    const { order, voices } = this.#served;
    return {
      ...order,
      voices: voices.map(({ hash }) => ({ hash, url: this.url + VOICE_PATH + hash })),
      sink: { kind: 'address', url: this.url + FILM_PATH },
    };
  }

  /** What the page says. */
  async #hear(url: URL, body: Buffer): Promise<void> {
    switch (url.pathname) {
      case FILM_PATH:
        await this.#take(url, body);
        break;
      case PROGRESS_PATH: {
        const { stage, done, total } = JSON.parse(body.toString()) as {
          readonly stage: FilmStage;
          readonly done: number;
          readonly total: number;
        };
        this.#served.report(stage, done, total);
        break;
      }
      case MADE_PATH:
        this.#resolve(JSON.parse(body.toString()) as MadeFilm);
        break;
      case FAILED_PATH:
        this.#reject(new FilmFault(this.#fault ?? body.toString()));
        break;
      default:
        break;
    }
  }

  async #take(url: URL, bytes: Buffer): Promise<void> {
    const name = url.searchParams.get('name');
    if (name !== null) {
      await writeFile(join(this.#served.folder, basename(name)), bytes);
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
    const voice = this.#served.voices.find(({ hash }) => path === VOICE_PATH + hash);
    const file = voice?.path ?? normalize(join(this.#served.root, path));
    const about =
      voice !== undefined || file.startsWith(this.#served.root + sep)
        ? await stat(file).catch(() => undefined)
        : undefined;
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
