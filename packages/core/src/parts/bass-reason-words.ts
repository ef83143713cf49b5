import type { Reason } from '../analysis/index.ts';
import { typeset } from '../theory/index.ts';

/** What a note of the walking bass is for. */
export type BassReasonCode =
  | 'bass.root'
  | 'bass.written-bass'
  | 'bass.fifth'
  | 'bass.third'
  | 'bass.seventh'
  | 'bass.scale'
  | 'bass.approach'
  | 'bass.passing'
  | 'bass.enclosure'
  | 'bass.pedal'
  | 'bass.skip'
  | 'bass.drop';

/** In English, one row a code. `by` is the kind of approach (approach-note.ts). */
const WORDS: Readonly<Record<BassReasonCode, (args: Reason['args']) => string>> = {
  'bass.root': ({ note, chord }) => `${note} is the root of ${chord}`,
  'bass.written-bass': ({ note, chord }) => `${note} is the bass that ${chord} writes`,
  'bass.fifth': ({ note, chord }) => `${note} is the fifth of ${chord}`,
  'bass.third': ({ note, chord }) => `${note} is the third of ${chord}`,
  'bass.seventh': ({ note, chord }) => `${note} is the seventh or sixth of ${chord}`,
  'bass.scale': ({ note, chord }) => `${note} walks through the scale over ${chord}`,
  'bass.approach': ({ note, by, chord }) => `${note} leads into the next chord after ${chord}: ${by}`,
  'bass.passing': ({ note }) => `${note} is a half step in passing`,
  'bass.enclosure': ({ note, chord }) => `${note} lies on the far side of the next chord's root after ${chord}`,
  'bass.pedal': ({ note, chord }) => `${note} is a pedal point under ${chord}`,
  'bass.skip': ({ note }) => `${note} is struck again off the beat`,
  'bass.drop': ({ note, chord }) => `${note} drops in triplets through ${chord}`,
};

function isBassReasonCode(code: string): code is BassReasonCode {
  return Object.hasOwn(WORDS, code);
}

/**
 * A bass note's reason in English.
 * @throws RangeError where the code is none of the bass's.
 * @example wordsOfBassReason({ code: 'bass.root', args: { note: 'Bb', chord: 'Bb7' } }) // → 'B♭ is the root of B♭7'
 */
export function wordsOfBassReason({ code, args }: Reason): string {
  if (!isBassReasonCode(code)) throw new RangeError(`code must be a reason of the bass, not '${code}'`);
  return typeset(WORDS[code](args));
}
