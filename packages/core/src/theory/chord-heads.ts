import type { ChordKind } from './chord-kinds.ts';
import { chordTokensOf, type ChordToken } from './chord-token.ts';

export const keyOf = (tokens: readonly ChordToken[]): string => tokens.map((token) => token.text).join(' ');

/**
 * Kinds by the tokens of their spellings, whatever order the rows stand in. A row that nobody could ever read, or that takes
 * another's spelling or degrees, is a slip in the table: it is refused as soon as the table is loaded.
 * @throws RangeError naming the kind, the spelling and what is wrong with it
 */
export function headsOf(kinds: readonly ChordKind[]): ReadonlyMap<string, ChordKind> {
  const heads = new Map<string, ChordKind>();
  const byDegrees = new Map<string, ChordKind>();
  for (const kind of kinds) {
    const degrees = kind.degrees.toSorted((a, b) => a - b).join(' ');
    const same = byDegrees.get(degrees);
    if (same !== undefined)
      throw new RangeError(`chord kinds '${same.suffix}' and '${kind.suffix}' have the same degrees`);
    byDegrees.set(degrees, kind);
    for (const spelling of [kind.suffix, ...kind.also]) {
      const { tokens, stoppedAt } = chordTokensOf(spelling);
      if (stoppedAt !== null || (tokens.length === 0 && spelling !== '')) {
        throw new RangeError(
          `chord kind '${kind.suffix}': its spelling '${spelling}' must be one that chordTokensOf reads`,
        );
      }
      const known = heads.get(keyOf(tokens));
      if (known !== undefined && known !== kind) {
        throw new RangeError(
          `chord kinds '${known.suffix}' and '${kind.suffix}' must not both be spelled '${spelling}'`,
        );
      }
      heads.set(keyOf(tokens), kind);
    }
  }
  return heads;
}
