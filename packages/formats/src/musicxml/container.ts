import type { Result } from '@fivespan/core';
import { Unzip, UnzipInflate, unzipSync } from 'fflate';
import { failure } from './failure.ts';
import { readElements } from './xml-reading.ts';

/** The largest file taken, packed or not. A lead sheet has some hundred kilobytes, a symphony some tens of megabytes. */
export const LARGEST_FILE_BYTES = 32 * 1024 * 1024;

/** The most entries a packed score may have: one score, its pictures and sounds. */
const MOST_ENTRIES = 1000;

/** How much is unpacked between two looks at the sum. */
const PIECE_BYTES = 16 * 1024;

const CONTAINER = 'META-INF/container.xml';

function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);
}

/** Encodings a score may name besides UTF-8. Source: WHATWG Encoding, labels; others are refused by name. */
const ENCODINGS: Readonly<Record<string, string>> = {
  'utf-8': 'utf-8',
  utf8: 'utf-8',
  'us-ascii': 'windows-1252',
  'iso-8859-1': 'windows-1252',
  'windows-1252': 'windows-1252',
  'utf-16': 'utf-16le',
  'utf-16le': 'utf-16le',
  'utf-16be': 'utf-16be',
};

/** The encoding of XML bytes, by byte-order mark, else by the XML declaration, else UTF-8; undefined where it is not read. */
export function encodingOf(bytes: Uint8Array): string | undefined {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  if (bytes[0] === 0x3c && bytes[1] === 0) return 'utf-16le';
  if (bytes[0] === 0 && bytes[1] === 0x3c) return 'utf-16be';
  const head = String.fromCharCode(...bytes.slice(0, 200));
  const named = /^[^<]*<\?xml[^>]*\sencoding\s*=\s*["']([\w.-]+)["']/u.exec(head)?.[1]?.toLowerCase();
  return ENCODINGS[named ?? 'utf-8'];
}

/** Bytes as text, by byte-order mark, else by the XML declaration, else UTF-8. */
function decode(bytes: Uint8Array): Result<string> {
  const encoding = encodingOf(bytes);
  if (encoding === undefined) return failure('musicxml.not-text');
  try {
    return { ok: true, value: new TextDecoder(encoding, { fatal: true }).decode(bytes), warnings: [] };
  } catch {
    return failure('musicxml.not-text');
  }
}

/** Thrown and caught here: the unpacking library stops only by an exception. */
class TooLarge extends Error {}

/** The entries' names, after a look at how many they are and how large they say they are. */
function entriesOf(bytes: Uint8Array): Result<readonly string[]> {
  const names: string[] = [];
  let total = 0;
  try {
    unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        names.push(name);
        total += originalSize;
        if (names.length > MOST_ENTRIES || total > LARGEST_FILE_BYTES) throw new TooLarge();
        return false;
      },
    });
  } catch (error) {
    return error instanceof TooLarge
      ? failure('musicxml.too-large', { limit: LARGEST_FILE_BYTES })
      : failure('musicxml.damaged-zip');
  }
  return { ok: true, value: names, warnings: [] };
}

/** An entry while it is unpacked. */
interface Unpacking {
  readonly pieces: Uint8Array[];
  length: number;
  isWhole: boolean;
}

function joined({ pieces, length }: Unpacking): Uint8Array {
  const whole = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

/**
 * Unpacks the entries `wanted` takes, the first of each name, in pieces: what a header says of a size is not believed.
 * Stops when `enough` says so.
 */
function unpackEntries(
  bytes: Uint8Array,
  wanted: (name: string) => boolean,
  enough: (unpacked: ReadonlyMap<string, Unpacking>) => boolean,
): Result<ReadonlyMap<string, Uint8Array>> {
  const unpacked = new Map<string, Unpacking>();
  let total = 0;
  try {
    const unzip = new Unzip((file) => {
      if (!wanted(file.name) || unpacked.has(file.name)) return;
      const entry: Unpacking = { pieces: [], length: 0, isWhole: false };
      unpacked.set(file.name, entry);
      if (unpacked.size > MOST_ENTRIES) throw new TooLarge();
      file.ondata = (error, piece, isLast) => {
        if (error !== null) throw error;
        entry.length += piece.length;
        total += piece.length;
        if (total > LARGEST_FILE_BYTES) throw new TooLarge();
        entry.pieces.push(piece);
        entry.isWhole ||= isLast;
      };
      file.start();
    });
    unzip.register(UnzipInflate);
    for (let at = 0; at < bytes.length && !enough(unpacked); at += PIECE_BYTES) {
      unzip.push(bytes.subarray(at, at + PIECE_BYTES), at + PIECE_BYTES >= bytes.length);
    }
  } catch (error) {
    return error instanceof TooLarge
      ? failure('musicxml.too-large', { limit: LARGEST_FILE_BYTES })
      : failure('musicxml.damaged-zip');
  }
  const entries = [...unpacked];
  if (entries.some(([, entry]) => !entry.isWhole)) return failure('musicxml.damaged-zip');
  return { ok: true, value: new Map(entries.map(([name, entry]) => [name, joined(entry)])), warnings: [] };
}

function unpack(bytes: Uint8Array, name: string): Result<Uint8Array> {
  const entries = unpackEntries(
    bytes,
    (each) => each === name,
    (unpacked) => unpacked.get(name)?.isWhole === true,
  );
  if (!entries.ok) return entries;
  const entry = entries.value.get(name);
  return entry === undefined ? failure('musicxml.damaged-zip') : { ok: true, value: entry, warnings: [] };
}

/** Everything a packed file holds, by name, in its order; bounded in number and size as the score itself is. */
export function unpackAll(bytes: Uint8Array): Result<ReadonlyMap<string, Uint8Array>> {
  return unpackEntries(
    bytes,
    () => true,
    () => false,
  );
}

/** The score's entry: the container's first root file, else the only XML file there is. */
function scoreEntry(bytes: Uint8Array, names: readonly string[]): Result<string> {
  if (names.includes(CONTAINER)) {
    const packed = unpack(bytes, CONTAINER);
    if (!packed.ok) return packed;
    const text = decode(packed.value);
    if (!text.ok) return text;
    let path: string | undefined;
    const read = readElements(text.value, {
      open: (name, attributes) => {
        const media = attributes['media-type'] ?? '';
        if (name === 'rootfile' && (media === '' || media.includes('musicxml'))) path ??= attributes['full-path'];
      },
    });
    if (!read.ok) return read;
    if (path !== undefined && names.includes(path)) return { ok: true, value: path, warnings: [] };
  }
  const scores = names.filter((name) => /\.(?:musicxml|xml)$/iu.test(name) && !name.startsWith('META-INF/'));
  const [only] = scores;
  if (scores.length === 1 && only !== undefined) return { ok: true, value: only, warnings: [] };
  return failure('musicxml.no-score-in-zip');
}

/** A score's XML as it is in a file. */
export interface ScoreSource {
  readonly text: string;
  /** The XML's own bytes, unpacked. */
  readonly bytes: Uint8Array;
  /** Its name in the packed file; null where the file is the XML itself. */
  readonly entry: string | null;
}

function sourceOf(bytes: Uint8Array, entry: string | null): Result<ScoreSource> {
  const text = decode(bytes);
  return text.ok ? { ...text, value: { text: text.value, bytes, entry } } : text;
}

/**
 * The score's XML out of a file's bytes: plain XML, or packed (.mxl), distinguished by the first bytes, not by a name.
 * Sizes are checked before anything is unpacked, and again while it is.
 */
export function scoreSource(bytes: Uint8Array): Result<ScoreSource> {
  if (bytes.length > LARGEST_FILE_BYTES) return failure('musicxml.too-large', { limit: LARGEST_FILE_BYTES });
  if (!isZip(bytes)) return sourceOf(bytes, null);
  const names = entriesOf(bytes);
  if (!names.ok) return names;
  const entry = scoreEntry(bytes, names.value);
  if (!entry.ok) return entry;
  const packed = unpack(bytes, entry.value);
  return packed.ok ? sourceOf(packed.value, entry.value) : packed;
}

/** The score's XML text out of a file's bytes, as `scoreSource` finds it. */
export function scoreText(bytes: Uint8Array): Result<string> {
  const source = scoreSource(bytes);
  return source.ok ? { ...source, value: source.value.text } : source;
}
