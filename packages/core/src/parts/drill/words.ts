import type { Reason } from '../../analysis/index.ts';
import { typeset } from '../../theory/index.ts';
import type { DrillKindId } from './drill-kind.ts';

/** What is said of a kind of drill, in English. */
export interface DrillKindWords {
  readonly name: string;
  /** What is played, in one sentence. */
  readonly sentence: string;
  /** What to listen for while playing it. */
  readonly listenFor: readonly string[];
}

/** The words of every kind. The advice is common practice. */
export const DRILL_WORDS: { readonly [Id in DrillKindId]: DrillKindWords } = {
  'finger-patterns': {
    name: 'Finger patterns in one position',
    sentence: 'The hand stays in one position over each chord while the five fingers take turns in every order.',
    listenFor: ['All five fingers equally loud, the fourth and fifth too.', 'Each note ends as the next begins.'],
  },
  family: {
    name: 'The family, in order and mixed',
    sentence: 'Every position of the chord’s family, first along its chain and then in an order you do not foresee.',
    listenFor: ['No gap where the hand moves.', 'The colour changes while the chord stays: say which note is new.'],
  },
  thumbs: {
    name: 'Thumbs at the changes, then whole positions',
    sentence: 'The thumb alone on each change, in time; then the whole position from the thumb up.',
    listenFor: [
      'The thumb lands with the chord, never after it.',
      'The second time the hand is there before its note.',
    ],
  },
  'in-thirds': {
    name: 'Chords in thirds to the 13th',
    sentence:
      'Each chord stacked in thirds out of positions, up to the 13th, as far as its scale allows, and down again.',
    listenFor: ['No accent where the thumb takes over.', 'Name the 9th, 11th and 13th as you pass them.'],
  },
  'avoid-notes': {
    name: 'Avoid notes and where they go',
    sentence:
      'Each note that rubs (a tension where none does), first on the beat and let go by step, then in passing off the beat.',
    listenFor: ['Hear the half step rub, and how it eases.', 'In passing nobody should notice it.'],
  },
  'outside-and-back': {
    name: 'Inside, outside and back',
    sentence: 'A bar inside, the same fingers a bar outside, and back to a chord tone that is held.',
    listenFor: ['Outside the line is as sure as inside: same touch, same time.', 'The last note is the chord’s own.'],
  },
  motive: {
    name: 'One motive in every position',
    sentence: 'One finger motive, the same rhythm and the same fingers, in every position of each chord’s family.',
    listenFor: ['It is recognised each time.', 'Move the hand in the silence after it.'],
  },
  'hand-independence': {
    name: 'Hand independence',
    sentence: 'The left hand walks on, the same each time, while the right hand adds a finger.',
    listenFor: ['The bass does not notice that the right hand came in.', 'Both hands in time, neither waits.'],
  },
  'guide-tones': {
    name: 'Guide tones',
    sentence: 'Third and seventh of each chord, each going to the nearest of the next: one line, the other, then both.',
    listenFor: ['Sing the line before you play it.', 'Which voice moves, and which stays?'],
  },
  'call-and-answer': {
    name: 'Call and answer',
    sentence: 'A bar calls and the next is yours; then the same calls with an answer made of their own fingers.',
    listenFor: ['Your answer leaves room before the next call.', 'It takes up something that the call said.'],
  },
  'same-line': {
    name: 'The same line in every key',
    sentence: 'The chorus’s own line over these bars, note for note with the same fingers, in each key.',
    listenFor: ['The same tune each time, not a new one.', 'The same fingers land on other colours of key.'],
  },
};

type PassageCode =
  | 'drill.pattern'
  | 'drill.in-order'
  | 'drill.mixed'
  | 'drill.thumbs-alone'
  | 'drill.whole-positions'
  | 'drill.stack'
  | 'drill.resolve'
  | 'drill.outside'
  | 'drill.motive'
  | 'drill.fingers'
  | 'drill.guide-line'
  | 'drill.call'
  | 'drill.answer'
  | 'drill.line';

/** Names short enough for a box over the staff; a passage without one goes on where the one before left off. */
const PASSAGE_NAMES: Readonly<Partial<Record<PassageCode, (args: Reason['args']) => string>>> = {
  'drill.in-order': () => 'in order',
  'drill.mixed': () => 'mixed',
  'drill.thumbs-alone': () => 'thumbs',
  'drill.whole-positions': () => 'whole',
  'drill.stack': ({ root }) => (root === undefined ? '' : `from ${root}`),
  'drill.resolve': ({ from, to }) => `${from} – ${to}`,
  'drill.outside': () => 'out, back',
  'drill.fingers': ({ count }) => (count === '1' ? '1' : `1 to ${count}`),
  'drill.guide-line': ({ voice = '' }) => voice,
  'drill.call': () => 'call',
  'drill.answer': () => 'answer',
};

/** What a passage does, in a few words that stand beside its bars. */
const PASSAGE_WORDS: Readonly<Record<PassageCode, (args: Reason['args']) => string>> = {
  'drill.pattern': ({ fingers }) => `fingers ${fingers}`,
  'drill.in-order': () => 'in order',
  'drill.mixed': () => 'mixed',
  'drill.thumbs-alone': () => 'thumbs alone',
  'drill.whole-positions': () => 'whole positions',
  'drill.stack': ({ reach, root, seventhChord }) =>
    root === undefined ? `in thirds ${reach}` : `${seventhChord ?? `from ${root}`} in thirds ${reach}`,
  'drill.resolve': ({ from, to }) => `${from} goes to ${to}`,
  'drill.outside': ({ scale, move }) => `outside: ${scale}${move === 'stay' ? '' : ` (${move})`}, and back`,
  'drill.motive': () => 'the motive',
  'drill.fingers': ({ count }) => (count === '1' ? 'the thumb alone' : `fingers 1 to ${count}`),
  'drill.guide-line': ({ voice }) => (voice === 'both' ? 'both lines' : `the ${voice} line`),
  'drill.call': () => 'a call, then a bar of your own',
  'drill.answer': ({ form }) => `a call, then its answer: ${form}`,
  'drill.line': () => 'the line',
};

function isPassageCode(code: string): code is PassageCode {
  return Object.hasOwn(PASSAGE_WORDS, code);
}

/**
 * What a passage of a drill does, in English.
 * @throws RangeError where the code is none of a drill's passages
 */
export function wordsOfPassage({ code, args }: Reason): string {
  if (!isPassageCode(code)) throw new RangeError(`code must be a passage of a drill, not '${code}'`);
  return typeset(PASSAGE_WORDS[code](args));
}

/** What else to listen for in a passage whose thirds stand on another root than the chord's; null for any other. */
export function adviceOfPassage({ code, args }: Reason): string | null {
  const { chord, root, seventhChord, away, holds } = args;
  if (code !== 'drill.stack' || chord === undefined || root === undefined) return null;
  const stands = `Over ${chord} the thirds stand on ${root}`;
  const is = seventhChord === undefined ? '' : `: ${[seventhChord, away].filter(Boolean).join(', ')}`;
  const why = holds === undefined ? ', where its scale begins' : `, with the same ${holds}`;
  return typeset(`${stands}${is}${why}.`);
}

/** A passage's name for a box over the staff; null for none. */
export function nameOfPassage({ code, args }: Reason): string | null {
  return isPassageCode(code) ? typeset(PASSAGE_NAMES[code]?.(args) ?? '') || null : null;
}
