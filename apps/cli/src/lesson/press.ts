import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { HandoutFontBytes } from '@fivespan/formats/handout';

/** Starts the engraver and parses the fonts. */
async function open() {
  const [{ createEngraver }, { HANDOUT_FONT_FILES: files, openHandoutFonts }] = await Promise.all([
    import('@fivespan/formats/engraving'),
    import('@fivespan/formats/handout'),
  ]);
  const { resolve } = createRequire(import.meta.url);
  const read = async (file: string): Promise<Uint8Array> => await readFile(resolve(file));
  const bytes = await Promise.all(Object.entries(files).map(async ([role, file]) => [role, await read(file)] as const));
  const fonts = openHandoutFonts(Object.fromEntries(bytes) as HandoutFontBytes);
  return { engraver: await createEngraver(), fonts };
}

let opened: ReturnType<typeof open> | undefined;

/** What pages are printed with, opened once in each worker: starting it takes longer than a page. */
export function openPress(): ReturnType<typeof open> {
  opened ??= open();
  return opened;
}
