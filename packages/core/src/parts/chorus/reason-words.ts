import type { Reason } from '../../analysis/index.ts';
import { typeset } from '../../theory/index.ts';
import type { ChorusReasonCode } from './reason.ts';

/** What a note of the chorus is for, in English. One row a code. */
const WORDS: Readonly<Record<ChorusReasonCode, (args: Reason['args']) => string>> = {
  'chorus.guide-tone': ({ note, degree, chord }) => `${note} is the ${degree} of ${chord}, a guide tone`,
  'chorus.chord-tone': ({ note, degree, chord }) => `${note} is the ${degree} of ${chord}, a chord tone`,
  'chorus.tension': ({ note, degree, chord }) => `${note} is the ${degree} of ${chord}, a tension`,
  'chorus.outside': ({ note, chord }) => `${note} is outside ${chord}`,
  'chorus.avoid-resolved': ({ note, degree, to, chord }) =>
    `${note}, the ${degree}, rubs over ${chord} and goes by step to ${to}`,
  'chorus.avoid-held': ({ note, chord, into }) => `${note} rubs over ${chord} and is held until ${into} takes it in`,
  'chorus.approach': ({ note, to, toDegree, toChord }) =>
    `${note} leads by step to ${to}, the ${toDegree} of ${toChord}`,
  'chorus.neighbour': ({ note, to, toDegree, toChord }) =>
    `${note} leads by half step into ${to}, the ${toDegree} of ${toChord}`,
  'chorus.enclosure': ({ note, to, toDegree, toChord }) =>
    `${note} closes in on ${to}, the ${toDegree} of ${toChord}, from the other side`,
  'chorus.anticipation': ({ note, degree, chord }) => `${note} comes early: it is the ${degree} of ${chord}`,
  'chorus.phrase-end': ({ note, degree, chord }) => `the phrase ends on ${note}, the ${degree} of ${chord}`,
};

function isChorusReasonCode(code: string): code is ChorusReasonCode {
  return Object.hasOwn(WORDS, code);
}

/**
 * A chorus note's reason in English.
 * @throws RangeError where the code is none of the chorus's.
 */
export function wordsOfChorusReason({ code, args }: Reason): string {
  if (!isChorusReasonCode(code)) throw new RangeError(`code must be a reason of the chorus, not '${code}'`);
  return typeset(WORDS[code](args));
}
