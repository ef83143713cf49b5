export { type SwingSource, trioSwing } from './measured-swing.ts';
export {
  ACCOMPANISTS,
  PLAYERS_IN,
  SOLOIST,
  type SetUp,
  TRIO_PLAYERS,
  type TrioParts,
  type TrioPlayer,
  performTrio,
} from './perform-trio.ts';
