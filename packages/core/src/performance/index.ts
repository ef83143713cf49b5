export type { Performance, PlayedNote, PlayedPart } from './performance.ts';
export { accompanimentSwing, soloistSwing } from './swing.ts';
export { perform } from './perform.ts';
export {
  ACCOMPANISTS,
  PLAYERS_IN,
  SOLOIST,
  type SetUp,
  type SwingSource,
  TRIO_PLAYERS,
  type TrioParts,
  type TrioPlayer,
  performTrio,
  trioSwing,
} from './trio/index.ts';
