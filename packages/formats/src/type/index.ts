export {
  BASS_EMS,
  CAPITAL_EMS,
  chordPieces,
  CHORD_STEPS,
  GAP_EMS,
  printedChordPieces,
  SIGN_GAP_EMS,
  SIGN_GAPS_EMS,
  type ChordPiece,
  type ChordSizes,
  type ChordStep,
} from './chord-layout.ts';
export { BOLD, SANS_FAMILIES, SERIF_FAMILIES } from './faces.ts';
export { isSign, signRuns, SIGNS, type SignRun } from './signs.ts';
export { svgChord, svgText } from './svg-text.ts';
