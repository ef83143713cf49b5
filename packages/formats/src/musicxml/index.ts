export { writeMusicXml, type MusicXmlOptions } from './score-document.ts';
export type { Purpose } from './harmony.ts';
