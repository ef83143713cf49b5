import type { NoteName, PitchClassSet } from '../../theory/index.ts';
import type { ChordFunction } from './function-scales.ts';

/** What a chord's neighbours and its form say about its scales, beyond what it does itself. */
export interface LadderSetting {
  /** A function its neighbours give it (the V of a half-diminished ii is one of minor); null where they say nothing. */
  readonly chordFunction: ChordFunction | null;
  /** The notes of a tonic and of the neighbours that share a mode with it; 0 where they say nothing. */
  readonly heard: PitchClassSet;
  /** The tonic of the blues it stands in as I, IV or V; null elsewhere. */
  readonly bluesTonic: NoteName | null;
}

export const PLAIN_SETTING: LadderSetting = { chordFunction: null, heard: 0 as PitchClassSet, bluesTonic: null };
