/** What shows pages; loaded with the pages screen only. */
export { watchNear, watchWidth } from '../../platform/pdf-view/watch-element.ts';
export type { PageWords, PdfPage } from '../../platform/pdf-view/index.ts';
