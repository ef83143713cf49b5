import {
  pitchClassOf,
  signatureOf,
  spellingsOf,
  usualKey,
  type Key,
  type NoteName,
  type PitchClass,
} from '../../theory/index.ts';
import type { HarmonicEvent } from './event.ts';
import { modeOf } from './harmonic-function.ts';
import { modeOfKeyIndex } from './key-costs.ts';

/** The index of a key among the 24, without spelling. */
export function keyIndexOf(key: Key): number {
  return pitchClassOf(key.tonic) + (key.mode === 'minor' ? 12 : 0);
}

/** Where the middle of a key's roots is above its tonic, on the line of fifths. */
const CENTRE: Readonly<Record<Key['mode'], number>> = { major: 2, minor: -1 };

/**
 * A key spelled as the chart's own roots are: of the tonics that make a key with at most seven accidentals, the one
 * the chart itself writes, else the one nearest on the line of fifths to the chords it explains, else the usual one.
 * @param prefer wins a tie, before the usual spelling
 */
export function spelledKey(index: number, events: readonly HarmonicEvent[], prefer: Key | null = null): Key {
  const mode = modeOf(modeOfKeyIndex(index));
  const usual = usualKey((index % 12) as PitchClass, mode);
  const distance = (tonic: NoteName): number =>
    events.reduce((sum, event) => sum + event.weight * Math.abs(event.chord.root - tonic - CENTRE[mode]), 0);
  let best = usual;
  /** Chords on the tonic that the chart spells otherwise. */
  const contradicted = (tonic: NoteName): number =>
    events.filter(({ root, sounding }) => root === index % 12 && sounding.root !== tonic).length;
  const rank = (key: Key): readonly number[] => [
    contradicted(key.tonic),
    distance(key.tonic),
    prefer === null ? 0 : Math.abs(signatureOf(key) - signatureOf(prefer)),
    key.tonic === usual.tonic ? 0 : 1,
  ];
  for (const tonic of spellingsOf((index % 12) as PitchClass, 1)) {
    const candidate: Key = { tonic, mode };
    if (Math.abs(signatureOf(candidate)) > 7) continue;
    const [ours, theirs] = [rank(candidate), rank(best)];
    const differs = ours.findIndex((each, at) => each !== theirs[at]);
    if (differs >= 0 && (ours[differs] as number) < (theirs[differs] as number)) best = candidate;
  }
  return best;
}
