import type { Reason } from '../../analysis/index.ts';
import { typeset } from '../../theory/index.ts';

/** What a note of the chorus is for, in English. One row a code. */
const WORDS: Readonly<Record<string, (args: Reason['args']) => string>> = {
  'chorus.guide-tone': ({ note, chord }) => `${note} is a guide tone of ${chord}`,
  'chorus.chord-tone': ({ note, chord }) => `${note} is a chord tone of ${chord}`,
  'chorus.tension': ({ note, chord }) => `${note} colours ${chord}`,
  'chorus.passing': ({ note }) => `${note} passes off the beat`,
  'chorus.avoid-resolved': ({ note, to, chord }) => `${note} rubs over ${chord} and goes by step to ${to}`,
  'chorus.anticipation': ({ note, chord }) => `${note} comes early and belongs to ${chord}`,
  'chorus.phrase-end': ({ note, chord }) => `the phrase ends on ${note}, a chord tone of ${chord}`,
};

/**
 * A chorus note's reason in English.
 * @throws RangeError where the code is none of the chorus's.
 */
export function wordsOfChorusReason({ code, args }: Reason): string {
  const words = WORDS[code];
  if (words === undefined) throw new RangeError(`code must be a reason of the chorus, not '${code}'`);
  return typeset(words(args));
}
