/** The pages' fonts from their packages, for tests, parsed once a worker: the product is handed their bytes. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import {
  HANDOUT_FONT_FILES,
  openHandoutFonts,
  type HandoutFontBytes,
  type HandoutFonts,
} from '@fivespan/formats/handout';

let opened: HandoutFonts | undefined;

export function pageFonts(): HandoutFonts {
  if (opened !== undefined) return opened;
  const { resolve } = createRequire(import.meta.url);
  const bytes = Object.entries(HANDOUT_FONT_FILES).map(([role, file]) => [
    role,
    new Uint8Array(readFileSync(resolve(file))),
  ]);
  return (opened = openHandoutFonts(Object.fromEntries(bytes) as HandoutFontBytes));
}
