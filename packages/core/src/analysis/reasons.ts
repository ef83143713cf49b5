import type { Reason } from './analysis.ts';

type Words = (args: Reason['args']) => string;

/**
 * Why a chord reads as it does, in English; another language translates this table. Arguments: `chord` its symbol, `key`
 * the region's key, `goal` the chord or degree it leads to, `other` the key something is lent by.
 */
export const HARMONY_REASONS = {
  tonic: ({ key }) => `the I of ${key}: home`,
  'tonic.stand-in': ({ key }) => `shares most of its notes with the I of ${key} and stands in for it`,
  'tonic.suspended': ({ key }) => `the I of ${key} with its third suspended`,
  'tonic.raised-fifth': ({ key }) => `the I of ${key} with its fifth raised on the way to another note`,
  'raised-third': ({ key }) => `the I of ${key} with the major third`,
  'blues.tonic': ({ key }) => `the I of ${key} with the blues' minor seventh: home, not a dominant`,
  'blues.subdominant': ({ key }) => `the IV of ${key} with the blues' minor seventh`,
  predominant: ({ key }) => `leads to the dominant of ${key}`,
  'minor-two': ({ key }) => `the half-diminished ii, as the minor key has it, leading to the dominant of ${key}`,
  dominant: ({ key }) => `the V of ${key}`,
  'leading-note': ({ key }) => `stands on the leading note of ${key}: a V without its root`,
  diatonic: ({ key }) => `a chord of ${key}`,
  'melodic-minor': ({ key }) => `a chord of ${key} with the sixth or seventh raised, as the melodic minor has them`,
  'raised-fourth': ({ key }) => `stands on the raised fourth of ${key} and leads to the V or back to the I`,
  'flat-second': ({ key }) => `the major chord on the flat second of ${key}`,
  'minor-subdominant': ({ key }) => `the minor iv, going straight home in ${key}`,
  'side-step': ({ chord }) => `${chord} steps aside by a half step and comes back`,
  borrowed: ({ key, other }) => `lent to ${key} by ${other}`,
  applied: ({ goal }) => `the V of ${goal}, which follows`,
  'applied.by-substitute': ({ goal }) => `the V of ${goal}; the tritone substitute of ${goal} follows`,
  'applied.delayed': ({ goal }) => `the V of ${goal}, which comes after one more chord`,
  'applied.unanswered': ({ goal }) => `sounds as the V of ${goal}, which does not come`,
  'applied.two': ({ goal }) => `the ii before the V of ${goal}`,
  substitute: ({ goal }) => `takes the place of the V of ${goal}, a tritone away, and slides down a half step`,
  'substitute.delayed': ({ goal }) =>
    `takes the place of the V of ${goal}, a tritone away; ${goal} comes later or by another dominant`,
  'substitute.unanswered': ({ goal }) => `sounds as the tritone substitute for the V of ${goal}, which does not come`,
  'substitute.two': ({ goal }) => `the ii that belongs to the tritone substitute for the V of ${goal}`,
  backdoor: ({ goal }) => `the flat VII going home to ${goal} by a whole step up, with the minor iv's notes`,
  'backdoor.unanswered': ({ goal }) =>
    `the flat VII that could go home to ${goal} by a whole step up; here it goes elsewhere`,
  'backdoor.two': ({ goal }) => `the minor iv before the flat VII that goes home to ${goal}`,
  'diminished.up': ({ goal }) => `passes up by a half step to ${goal}`,
  'diminished.down': ({ goal }) => `passes down by a half step to ${goal}`,
  'diminished.bass': ({ goal }) => `passes by a half step to the bass of ${goal}`,
  'diminished.auxiliary': ({ goal }) => `decorates ${goal} on the same root`,
  'diminished.fourth': ({ goal }) => `the diminished chord on the raised fourth, going to ${goal}`,
  'diminished.leading': ({ goal }) => `a V(b9) of ${goal} without its root`,
  'diminished.loose': ({ goal }) => `a diminished chord between its neighbours, on the way to ${goal}`,
  modal: ({ key, mode }) => `part of a stretch that rests on ${mode} and goes nowhere, in ${key}`,
  'constant-structure': ({ chord }) => `one of a run of chords of the same kind on moving roots, here ${chord}`,
  unexplained: ({ key }) => `not explained in ${key}`,
  silence: () => 'no chord is played here',
} as const satisfies Record<string, Words>;

export type ReasonCode = keyof typeof HARMONY_REASONS;

/**
 * A reading's reason in English.
 * @throws RangeError where the code is not one of a harmony reading's.
 * @example wordsOfReason({ code: 'dominant', args: { key: 'F major' } }) // → 'the V of F major'
 */
export function wordsOfReason({ code, args }: Reason): string {
  const words: Words | undefined = (HARMONY_REASONS as Readonly<Record<string, Words>>)[code];
  if (words === undefined) throw new RangeError(`code must be one of a reading's reasons, not '${code}'`);
  return words(args);
}
