/** The general-purpose library chord-symbol 4.0.0 (MIT) as an independent reader of chord symbols: pitch classes only. */
import { createRequire } from 'node:module';
import { noteName, setOfNotes, type PitchClassSet } from '@fivespan/core';

interface Parsed {
  readonly error?: unknown;
  readonly normalized?: { readonly notes: readonly string[]; readonly bassNote: string };
}

// its package entry does not resolve under Node's ES modules; its lib file does
const library = createRequire(import.meta.url)('chord-symbol/lib/chord-symbol.js') as {
  readonly chordParserFactory: () => (symbol: string) => Parsed;
};
const parse = library.chordParserFactory();

/** The pitch classes the library reads, without a bass outside the chord; undefined where it does not understand. */
export function independentSet(symbol: string): PitchClassSet | undefined {
  const { error, normalized } = parse(symbol);
  if (error !== undefined || normalized === undefined) return undefined;
  return setOfNotes(normalized.notes.map(noteName));
}
