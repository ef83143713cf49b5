export * from './note-text.ts';
export * from './degree-label.ts';
export * from './keyboard-layout.ts';
export * from './keyboard-picture.ts';
export * from './palette.ts';
export * from './shape-mark.ts';
export {
  placeTabs,
  tabRowsOf,
  TAB_HEIGHT_MM,
  TAB_ROW_MM,
  TAB_WIDTH_MM,
  type PlacedTab,
  type ThumbMark,
} from './thumb-tab.ts';
export * from './words.ts';
