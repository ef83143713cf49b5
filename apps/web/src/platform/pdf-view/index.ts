/** Pages on the screen as they will be printed. Loaded only where pages are shown: pdf.js is large. */
export { closePdfView, openPdf, type OpenPdf, type PdfPage } from './open-pdf.ts';
export type { PageWords } from './page-words.ts';
export { watchNear, watchWidth } from './watch-element.ts';
