import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

/** Starts the engraver and parses the fonts. */
async function open() {
  const [{ createEngraver }, { HANDOUT_FONT_FILES: files, openHandoutFonts }] = await Promise.all([
    import('@fivespan/formats/engraving'),
    import('@fivespan/formats/handout'),
  ]);
  const { resolve } = createRequire(import.meta.url);
  const read = async (file: string): Promise<Uint8Array> => await readFile(resolve(file));
  const fonts = openHandoutFonts({
    serif: await read(files.serif),
    'serif-bold': await read(files['serif-bold']),
    engraved: await read(files.engraved),
    'engraved-bold': await read(files['engraved-bold']),
    sans: await read(files.sans),
    'sans-bold': await read(files['sans-bold']),
    'sans-italic': await read(files['sans-italic']),
  });
  return { engraver: await createEngraver(), fonts };
}

let opened: ReturnType<typeof open> | undefined;

/** What pages are printed with, opened once in each worker: starting it takes longer than a page. */
export function openPress(): ReturnType<typeof open> {
  opened ??= open();
  return opened;
}
