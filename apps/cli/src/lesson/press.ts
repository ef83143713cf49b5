import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

/** Loads the writers, starts the engraver and parses the fonts. */
async function open() {
  // Loaded here, so that help and the printing commands never wait for the engraver and the PDF writer.
  const [{ createEngraver }, handout, { writeMidi }, { writeMusicXml }] = await Promise.all([
    import('@fivespan/formats/engraving'),
    import('@fivespan/formats/handout'),
    import('@fivespan/formats/midi'),
    import('@fivespan/formats/musicxml'),
  ]);
  const { resolve } = createRequire(import.meta.url);
  const read = async (file: string): Promise<Uint8Array> => await readFile(resolve(file));
  const files = handout.HANDOUT_FONT_FILES;
  const fonts = handout.openHandoutFonts({
    serif: await read(files.serif),
    'serif-bold': await read(files['serif-bold']),
    engraved: await read(files.engraved),
    'engraved-bold': await read(files['engraved-bold']),
    sans: await read(files.sans),
    'sans-bold': await read(files['sans-bold']),
    'sans-italic': await read(files['sans-italic']),
  });
  return { engraver: await createEngraver(), fonts, writeHandout: handout.writeHandout, writeMidi, writeMusicXml };
}

let opened: ReturnType<typeof open> | undefined;

/** Everything that writes files, opened once in each worker: starting it takes longer than a page. */
export function openPress(): ReturnType<typeof open> {
  opened ??= open();
  return opened;
}
