import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, it } from 'vitest';
import PDFDocument from 'pdfkit';
import { HANDOUT_FONT_FILES } from './fonts.ts';
import { unpackFont } from './unpack-font.ts';

const { resolve } = createRequire(import.meta.url);
const serif = new Uint8Array(readFileSync(resolve(HANDOUT_FONT_FILES.serif)));
const signs = new Uint8Array(readFileSync(resolve(HANDOUT_FONT_FILES.signs)));

/** Four-byte words added up, modulo 2^32: the checksum of a table as OpenType 1.9 has it. */
function checksum(table: Uint8Array): number {
  const padded = new Uint8Array((table.length + 3) & ~3);
  padded.set(table);
  const view = new DataView(padded.buffer);
  let sum = 0;
  for (let at = 0; at < padded.length; at += 4) sum = (sum + view.getUint32(at)) >>> 0;
  return sum;
}

it('a packed font becomes a plain one: every table is where the directory says and sums up to its checksum', () => {
  const font = unpackFont(serif);
  const view = new DataView(font.buffer);
  const wrong: string[] = [];
  for (let index = 0; index < view.getUint16(4); index++) {
    const [tag, sum, offset, length] = [0, 4, 8, 12].map((part) => view.getUint32(12 + index * 16 + part)) as [
      number,
      number,
      number,
      number,
    ];
    const table = font.slice(offset, offset + length);
    // the head table's own sum leaves out the field that holds the sum of the whole file
    if (tag === 0x68656164) table.fill(0, 8, 12);
    if (checksum(table) !== sum || offset % 4 !== 0) wrong.push(`table ${index}`);
  }
  expect(wrong).toEqual([]);
  // header's field totalSfntSize, bytes 16 to 19 of the packed file
  expect(font.length).toBe(new DataView(serif.buffer).getUint32(16));
  const door = new PDFDocument({ autoFirstPage: false, font: null });
  expect(door.font(font)._font.font.hasGlyphForCodePoint(0x41)).toBe(true);
});

it('any other file stays as it is', () => {
  expect(unpackFont(signs)).toBe(signs);
});

it('a file that is cut off is refused', () => {
  expect(() => unpackFont(serif.subarray(0, serif.length - 400))).toThrow(/cut off or damaged|unexpected EOF/u);
});
