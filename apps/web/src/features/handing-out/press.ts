/** What pages are printed with, in a worker: the engraver and the fonts, loaded when the first page is asked for. */
import serif from '@fontsource/source-serif-4/files/source-serif-4-latin-400-normal.woff?url';
import serifBold from '@fontsource/source-serif-4/files/source-serif-4-latin-600-normal.woff?url';
import serifItalic from '@fontsource/source-serif-4/files/source-serif-4-latin-400-italic.woff?url';
import sans from '@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff?url';
import sansBold from '@fontsource/source-sans-3/files/source-sans-3-latin-600-normal.woff?url';
import signs from '@fivespan/formats/fonts/signs-400.otf?url';
import signsBold from '@fivespan/formats/fonts/signs-600.otf?url';
import signsBlack from '@fivespan/formats/fonts/signs-700.otf?url';
import serifBoldLatinExt from '@fontsource/source-serif-4/files/source-serif-4-latin-ext-600-normal.woff?url';
import serifBoldVietnamese from '@fontsource/source-serif-4/files/source-serif-4-vietnamese-600-normal.woff?url';
import serifBoldCyrillic from '@fontsource/source-serif-4/files/source-serif-4-cyrillic-600-normal.woff?url';
import serifBoldGreek from '@fontsource/source-serif-4/files/source-serif-4-greek-600-normal.woff?url';
import sansLatinExt from '@fontsource/source-sans-3/files/source-sans-3-latin-ext-400-normal.woff?url';
import sansVietnamese from '@fontsource/source-sans-3/files/source-sans-3-vietnamese-400-normal.woff?url';
import sansCyrillic from '@fontsource/source-sans-3/files/source-sans-3-cyrillic-400-normal.woff?url';
import sansGreek from '@fontsource/source-sans-3/files/source-sans-3-greek-400-normal.woff?url';
import { openHandoutFonts } from '@fivespan/formats/handout';
import type { Press } from '@fivespan/formats/pack';
import { fetchBytes } from '../../platform/assets/index.ts';
import { workerEngraver } from '../engraving/worker-engraver.ts';

/** The files of HANDOUT_FONT_FILES, by address. */
const FONT_ADDRESSES = {
  serif,
  'serif-bold': serifBold,
  'serif-italic': serifItalic,
  sans,
  'sans-bold': sansBold,
  signs,
  'signs-bold': signsBold,
  'signs-black': signsBlack,
  'serif-bold-latin-ext': serifBoldLatinExt,
  'serif-bold-vietnamese': serifBoldVietnamese,
  'serif-bold-cyrillic': serifBoldCyrillic,
  'serif-bold-greek': serifBoldGreek,
  'sans-latin-ext': sansLatinExt,
  'sans-vietnamese': sansVietnamese,
  'sans-cyrillic': sansCyrillic,
  'sans-greek': sansGreek,
};

async function open(): Promise<Press> {
  const [engraver, ...files] = await Promise.all([
    workerEngraver(),
    ...Object.entries(FONT_ADDRESSES).map(async ([role, address]) => [role, await fetchBytes(address)] as const),
  ]);
  return {
    engraver,
    fonts: openHandoutFonts(Object.fromEntries(files) as Record<keyof typeof FONT_ADDRESSES, Uint8Array>),
  };
}

let opened: Promise<Press> | undefined;

/** Opened once in each worker; after a failure (offline) it is tried again. */
export function openPress(): Promise<Press> {
  opened ??= open().catch((error: unknown) => {
    opened = undefined;
    throw error;
  });
  return opened;
}
