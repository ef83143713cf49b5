export { drillSheetSteps, writeDrillSheet } from './drill-sheet.ts';
export { handoutSteps, writeHandout, type HandoutOptions } from './handout.ts';
export {
  HANDOUT_FONT_FILES,
  openHandoutFonts,
  type FontRole,
  type HandoutFontBytes,
  type HandoutFonts,
} from './fonts.ts';
export { writePart } from './part-page.ts';
export { ENGLISH, type HandoutWords } from './words.ts';
export type { Paper } from './pdf-document.ts';
export type { View } from './page-frame.ts';
