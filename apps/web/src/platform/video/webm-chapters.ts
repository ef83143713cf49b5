/**
 * Chapters in a WebM file, which its muxer does not write: it is asked for tags as long as them, and they are put in the tags' place, so
 * that nothing else of the file moves. Source: RFC 9559 (Matroska), 5.1.7 Chapters, 5.1.1 SeekHead; RFC 8794 (EBML), 11.3.3 Void.
 */
import type { VideoChapter } from './mp4-chapters.ts';

const CHAPTERS = [0x10, 0x43, 0xa7, 0x70] as const;
const TAGS = [0x12, 0x54, 0xc3, 0x67] as const;
/** A SeekID of four bytes that says Tags. */
const SEEKS_TAGS = [0x53, 0xab, 0x84, ...TAGS] as const;
const VOID = 0xec;

/** The tag whose place the chapters take. */
export const CHAPTERS_TAG = 'CHAPTERS';

/** Only the file's head has tags or says where they are: it is shorter than this. */
const HEAD_BYTES = 100_000;
const MOST_TITLE_LETTERS = 200;
const NANOS = 1_000_000_000;

/** An element's size, in as few bytes as it needs, at most four. */
function sizeBytes(size: number): number[] {
  if (size < 0x7f) return [0x80 | size];
  if (size < 0x3fff) return [0x40 | (size >> 8), size & 0xff];
  if (size < 0x1fffff) return [0x20 | (size >> 16), (size >> 8) & 0xff, size & 0xff];
  return [0x10 | (size >> 24), (size >> 16) & 0xff, (size >> 8) & 0xff, size & 0xff];
}

const element = (id: readonly number[], content: readonly number[]): number[] => [
  ...id,
  ...sizeBytes(content.length),
  ...content,
];

const text = (letters: string): number[] => [...new TextEncoder().encode(letters)];

/** A whole number in eight bytes, the highest first. */
function whole(value: number): number[] {
  const bytes = new DataView(new ArrayBuffer(8));
  bytes.setBigUint64(0, BigInt(value));
  return [...new Uint8Array(bytes.buffer)];
}

/** One edition with a chapter for each. */
function editionOf(chapters: readonly VideoChapter[]): number[] {
  const atoms = chapters.flatMap(({ startSeconds, title }, index) =>
    element(
      [0xb6],
      [
        ...element([0x73, 0xc4], whole(index + 1)),
        ...element([0x91], whole(Math.round(startSeconds * NANOS))),
        ...element(
          [0x80],
          [
            ...element([0x85], text([...title].slice(0, MOST_TITLE_LETTERS).join(''))),
            ...element([0x43, 0x7c], text('eng')),
          ],
        ),
      ],
    ),
  );
  return element([0x45, 0xb9], atoms);
}

/** A tag's value that leaves as much room as chapters need. */
export function roomForChapters(chapters: readonly VideoChapter[]): string {
  return ' '.repeat(editionOf(chapters).length + 2);
}

/** So many bytes that say nothing. */
function voidOf(bytes: number): number[] {
  const room = bytes - 1 < 0x80 ? 2 : bytes - 1 < 0x4000 ? 3 : 4;
  const size = bytes - room;
  const length =
    room === 2
      ? [0x80 | size]
      : room === 3
        ? [0x40 | (size >> 8), size & 0xff]
        : [0x20 | (size >> 16), (size >> 8) & 0xff, size & 0xff];
  return [VOID, ...length, ...Array.from({ length: size }, () => 0)];
}

function placeOf(bytes: Uint8Array, wanted: readonly number[], from: number): number {
  const most = Math.min(bytes.length, HEAD_BYTES) - wanted.length;
  for (let at = from; at <= most; at++) if (wanted.every((each, index) => bytes[at + index] === each)) return at;
  return -1;
}

/**
 * What is written of a WebM's head, with chapters where its tags are, and where it says where they are.
 * @param position where in the file it is written
 * @returns the bytes as they are where they are none of the head, or have no room
 */
export function withWebmChapters(
  bytes: Uint8Array<ArrayBuffer>,
  position: number,
  chapters: readonly VideoChapter[],
): Uint8Array<ArrayBuffer> {
  if (position >= HEAD_BYTES) return bytes;
  const changed = bytes.slice();
  const seek = placeOf(changed, SEEKS_TAGS, 0);
  if (seek >= 0) changed.set(CHAPTERS, seek + SEEKS_TAGS.length - TAGS.length);
  const at = placeOf(changed, TAGS, 0);
  if (at < 0) return changed;
  const first = changed[at + TAGS.length] ?? 0;
  const length = Math.clz32(first) - 23;
  let size = first & (0xff >> length);
  for (let index = 1; index < length; index++) size = size * 256 + (changed[at + TAGS.length + index] ?? 0);
  const edition = editionOf(chapters);
  const rest = size - edition.length;
  const from = at + TAGS.length + length;
  if (rest < 2 || from + size > changed.length) return bytes;
  changed.set(CHAPTERS, at);
  changed.set([...edition, ...voidOf(rest)], from);
  return changed;
}
