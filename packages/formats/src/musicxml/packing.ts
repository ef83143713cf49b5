import { deflateSync } from 'fflate';

/** CRC-32 as zip files have it. Source: APPNOTE.TXT 6.3.10, 4.4.7; the polynomial of ITU-T V.42, reflected. */
const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, index) => {
  let value = index;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

function crcOf(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const each of bytes) crc = (CRC_TABLE[(crc ^ each) & 0xff] as number) ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

const VERSION_NEEDED = 20;
/** Names are UTF-8. */
const UTF8_FLAG = 0x0800;
const STORED = 0;
const DEFLATED = 8;
/** The first date a zip can hold, 1 January 1980: the same input gives the same bytes. */
const DATE = 0x0021;

/** Numbers of two or four bytes, low byte first, one after the other. */
function fields(...values: readonly (readonly [bytes: 2 | 4, value: number])[]): Uint8Array {
  return Uint8Array.from(
    values.flatMap(([bytes, value]) => Array.from({ length: bytes }, (_, index) => (value >>> (8 * index)) & 0xff)),
  );
}

/**
 * A zip file of entries in their order, under whatever names they have: `__proto__` and `1` are names like others. (fflate takes
 * entries as an object, which loses the one and moves the other to the front, before the mimetype that must be first.)
 * Source: APPNOTE.TXT 6.3.10, 4.3.7, 4.3.12 and 4.3.16.
 * @param isStored which entries are not packed
 * @throws RangeError where there are more entries, or bytes, than the format counts without its 64-bit form
 */
export function zipOf(
  entries: Iterable<readonly [name: string, bytes: Uint8Array]>,
  isStored: (name: string) => boolean,
): Uint8Array {
  const pieces: Uint8Array[] = [];
  const directory: Uint8Array[] = [];
  let offset = 0;
  const put = (...parts: readonly Uint8Array[]): void => {
    for (const part of parts) {
      pieces.push(part);
      offset += part.length;
    }
  };
  for (const [name, bytes] of entries) {
    const nameBytes = new TextEncoder().encode(name);
    const isPlain = isStored(name);
    const data = isPlain ? bytes : deflateSync(bytes);
    const about = fields(
      ...([
        [2, VERSION_NEEDED],
        [2, UTF8_FLAG],
        [2, isPlain ? STORED : DEFLATED],
        [2, 0],
        [2, DATE],
        [4, crcOf(bytes)],
        [4, data.length],
        [4, bytes.length],
        [2, nameBytes.length],
        [2, 0],
      ] as const),
    );
    directory.push(
      fields([4, 0x02014b50], [2, VERSION_NEEDED]),
      about,
      fields([2, 0], [2, 0], [2, 0], [4, 0], [4, offset]),
      nameBytes,
    );
    put(fields([4, 0x04034b50]), about, nameBytes, data);
  }
  const count = directory.length / 4;
  const start = offset;
  put(...directory);
  if (count > 0xffff || offset > 0xffffffff) throw new RangeError('entries must be at most 65,535, and 4 GB in all');
  put(fields([4, 0x06054b50], [2, 0], [2, 0], [2, count], [2, count], [4, offset - start], [4, start], [2, 0]));
  const whole = new Uint8Array(offset);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
