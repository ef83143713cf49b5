import type { PrintedPicture } from '../../platform/print/index.ts';
import type { MadePages } from './preview.ts';

/** As fine as an office printer: dots to the inch. */
const PRINTED_DPI = 300;
const POINTS_AN_INCH = 72;

/**
 * Prints pages that are shown, through the browser's own dialog.
 * @param report called with pages made ready and in all
 */
export async function printPages(
  { pdf, asked }: MadePages,
  report: (done: number, total: number) => void,
  signal: AbortSignal,
): Promise<void> {
  const { printPictures } = await import('../../platform/print/index.ts');
  const pictures: PrintedPicture[] = [];
  for (const page of pdf.pages) {
    report(pictures.length, pdf.pages.length);
    const canvas = await page.picture(Math.round((page.widthPt * PRINTED_DPI) / POINTS_AN_INCH), signal);
    const text = (await page.read()).map((each) => each.text).join(' ');
    pictures.push({ canvas, text });
  }
  signal.throwIfAborted();
  await printPictures(pictures, asked.paper);
}
