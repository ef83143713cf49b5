/** The sign font in the repository is what its tool makes, and has what the packages take to be signs. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { isSign } from '@fivespan/formats/type';
import { signFont, SIGNS, WEIGHTS } from './signs.mjs';

it.each(Object.keys(WEIGHTS).map(Number))('signs of weight %i are what the tool makes', async (weight) => {
  const folder = join(import.meta.dirname, '..', 'packages', 'formats', 'fonts');
  const made = await signFont(weight);
  expect(Buffer.from(made.otf).equals(readFileSync(join(folder, `signs-${weight}.otf`)))).toBe(true);
  expect(Buffer.from(made.woff2).equals(readFileSync(join(folder, `signs-${weight}.woff2`)))).toBe(true);
});

it('names the signs of the font, and nothing else, as signs', () => {
  expect(SIGNS.filter((sign) => !isSign(sign))).toEqual([]);
  const letters = Array.from({ length: 0x2_00_00 - 0x20 }, (_, index) => index + 0x20)
    .filter((point) => point < 0xd8_00 || point > 0xdf_ff)
    .map((point) => String.fromCodePoint(point));
  expect(letters.filter(isSign)).toEqual([...SIGNS]);
});
