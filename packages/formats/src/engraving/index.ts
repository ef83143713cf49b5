export { createEngraver, ENGRAVING_TEXT_FONT, type Engraver, type EngravingOptions } from './engraver.ts';
export { MUSIC_FONT_FAMILY } from './plain-svg.ts';
export { musicFont } from './music-font.ts';
