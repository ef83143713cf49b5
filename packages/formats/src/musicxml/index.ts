export { writeMusicXml, type MusicXmlOptions } from './score-document.ts';
export { readMusicXml } from './lead-sheet-reading.ts';
export { writeLeadSheet } from './lead-sheet-document.ts';
