/** A place in a film that one may begin from. */
export interface VideoChapter {
  readonly startSeconds: number;
  readonly title: string;
}

const CHAPTER_UNITS_A_SECOND = 10_000_000;
const MOST_CHAPTERS = 255;
const MOST_TITLE_BYTES = 255;

function box(name: string, ...contents: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const size = contents.reduce((sum, each) => sum + each.length, 8);
  const bytes = new Uint8Array(size);
  new DataView(bytes.buffer).setUint32(0, size);
  bytes.set(new TextEncoder().encode(name), 4);
  let at = 8;
  for (const each of contents) {
    bytes.set(each, at);
    at += each.length;
  }
  return bytes;
}

/** A title in UTF-8, cut at a letter. */
function titleBytes(title: string): Uint8Array {
  let text = title;
  let bytes = new TextEncoder().encode(text);
  while (bytes.length > MOST_TITLE_BYTES) {
    text = [...text].slice(0, -1).join('');
    bytes = new TextEncoder().encode(text);
  }
  return bytes;
}

/** The box that players read chapters from. Common practice: ISO 14496-12 has none; as ffmpeg's movenc writes and mov reads it. */
function chapterBox(chapters: readonly VideoChapter[]): Uint8Array {
  const listed = chapters.slice(0, MOST_CHAPTERS);
  const head = new Uint8Array(9);
  head[0] = 1;
  head[8] = listed.length;
  const entries = listed.map(({ startSeconds, title }) => {
    const name = titleBytes(title);
    const entry = new Uint8Array(9 + name.length);
    new DataView(entry.buffer).setBigUint64(0, BigInt(Math.round(startSeconds * CHAPTER_UNITS_A_SECOND)));
    entry[8] = name.length;
    entry.set(name, 9);
    return entry;
  });
  return box('udta', box('chpl', head, ...entries));
}

const nameAt = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at + 4, at + 8));
const sizeAt = (bytes: Uint8Array, at: number): number =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(at);

const isBox = (bytes: Uint8Array, at: number, name: string): boolean =>
  at + 8 <= bytes.length && nameAt(bytes, at) === name;

/**
 * What is written of a movie's beginning, with chapters where its head is in it. The head grows into the free room behind it, so that
 * nothing else of the file moves.
 * @param bytes written at the file's beginning, or at its head
 * @returns the bytes as they are where there is no head in them, or no room
 */
export function withChapters(
  bytes: Uint8Array<ArrayBuffer>,
  chapters: readonly VideoChapter[],
): Uint8Array<ArrayBuffer> {
  const at = isBox(bytes, 0, 'ftyp') ? sizeAt(bytes, 0) : 0;
  if (!isBox(bytes, at, 'moov')) return bytes;
  const size = sizeAt(bytes, at);
  const end = at + size;
  if (!isBox(bytes, end, 'free')) return bytes;
  const added = chapterBox(chapters);
  const free = sizeAt(bytes, end) - added.length;
  if (free < 8) return bytes;
  const whole = new Uint8Array(Math.max(bytes.length, end + added.length + 8));
  whole.set(bytes);
  whole.set(added, end);
  const view = new DataView(whole.buffer);
  view.setUint32(at, size + added.length);
  view.setUint32(end + added.length, free);
  whole.set(new TextEncoder().encode('free'), end + added.length + 4);
  return whole;
}
