/** What pages are printed with, in a worker: the engraver and the fonts, loaded when the first page is asked for. */
import serif from 'dejavu-fonts-ttf/ttf/DejaVuSerif.ttf?url';
import serifBold from 'dejavu-fonts-ttf/ttf/DejaVuSerif-Bold.ttf?url';
import engraved from 'dejavu-fonts-ttf/ttf/DejaVuSerifCondensed.ttf?url';
import engravedBold from 'dejavu-fonts-ttf/ttf/DejaVuSerifCondensed-Bold.ttf?url';
import sans from 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf?url';
import sansBold from 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf?url';
import sansItalic from 'dejavu-fonts-ttf/ttf/DejaVuSans-Oblique.ttf?url';
import { openHandoutFonts } from '@fivespan/formats/handout';
import type { Press } from '@fivespan/formats/pack';
import { fetchBytes } from '../../platform/assets/index.ts';
import { workerEngraver } from '../engraving/worker-engraver.ts';

/** The files of HANDOUT_FONT_FILES, by address. */
const FONT_ADDRESSES = {
  serif,
  'serif-bold': serifBold,
  engraved,
  'engraved-bold': engravedBold,
  sans,
  'sans-bold': sansBold,
  'sans-italic': sansItalic,
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
