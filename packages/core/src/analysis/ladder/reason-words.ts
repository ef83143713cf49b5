import type { Reason } from '../analysis.ts';
import type { ChordFunction } from './function-scales.ts';

/** Why a rung stands on the ladder, and where. */
export type LadderReasonCode =
  | `function.${ChordFunction}` // the first rung: the function's own scale
  | 'scale.function-next' // also listed for the function
  | 'scale.in-key' // holds the chord, and the key holds it
  | 'scale.holds-chord' // holds the chord, leaves the key
  | 'scale.raised-tonic'
  | 'scale.bebop'
  | 'scale.blues'
  | 'scale.over-dominant' // usual over a dominant though it drops one of its notes
  | 'scale.made-for-chord'
  | 'scale.substitute'
  | 'scale.side-slip-up'
  | 'scale.side-slip-down';

type Args = Readonly<Record<string, string>>;

/** What a function's own scale is for. Common practice; the functions are explained in docs/chord-scales.md. */
const OF_FUNCTION: Readonly<Record<ChordFunction, string>> = {
  'tonic major': 'home in major',
  'Lydian major': 'a major chord away from home',
  'tonic minor': 'home in minor',
  'tonic minor seventh': 'home in minor with the b7 the chord keeps',
  'predominant minor': 'a minor chord on its way to a dominant',
  'third minor': 'iii of the key, from the key’s own notes',
  'sixth minor': 'vi of the key, from the key’s own notes',
  'melodic minor chord': 'a minor chord with a 6 or a natural 7',
  'dominant of major': 'leads down a fifth to a major chord',
  'dominant of the second': 'leads to the ii, whose b3 is its b13',
  'dominant of minor': 'leads down a fifth to a minor chord, whose scale gives b9 and b13',
  'altered dominant': 'the chord writes its fifth and ninth altered',
  'augmented dominant': 'the chord writes a #5',
  'Lydian dominant': 'a dominant that does not lead down a fifth',
  'modal dominant': 'a dominant one rests on',
  'blues tonic': 'home in the blues',
  'suspended dominant': 'the 4 stands in the place of the 3',
  'suspended dominant of minor': 'suspended, with a b9, on its way to minor',
  'suspended flat ninth': 'suspended, with a b9',
  'second of minor': 'the ii of a minor cadence',
  'half-diminished': 'from the key’s own notes',
  'leading-note seventh': 'the diminished seventh on the leading note, from the harmonic minor',
  'leading-note triad': 'vii of the key, from the key’s own notes',
  diminished: 'every tension a whole step above a chord note',
  'augmented major': 'the chord writes a #5 with a natural 7',
  'augmented triad': 'a fifth that is raised',
  'plain mode': 'the key’s own scale from the chord’s root',
};

const list = (label: string, notes: string | undefined): string =>
  notes === undefined || notes === '' ? '' : `; ${label} ${notes}`;

/** What a rung does to the chord and the key, for those that leave either. */
const effect = ({ missing, outside }: Args): string =>
  list('leaves out the chord’s', missing) + list('outside the key:', outside);

const WORDS: Readonly<Record<Exclude<LadderReasonCode, `function.${ChordFunction}`>, (args: Args) => string>> = {
  'scale.function-next': (args) => `also usual in this function${effect(args)}`,
  'scale.in-key': () => 'holds the chord, and the key holds it',
  'scale.holds-chord': (args) => `holds the chord${effect(args)}`,
  'scale.raised-tonic': (args) => `the key’s positions raised a fifth: the 4 that rubs becomes #11${effect(args)}`,
  'scale.bebop': (args) => `with ${args['passing'] ?? ''} as a passing note, off the beat`,
  'scale.blues': (args) => `the sound of the blues rather than of the chord${effect(args)}`,
  'scale.over-dominant': (args) => `colours a dominant${effect(args)}`,
  'scale.made-for-chord': () => 'no scale in use holds this chord: the nearest with the chord’s own notes',
  'scale.substitute': (args) => `the scale of the dominant a tritone away${effect(args)}`,
  'scale.side-slip-up': (args) => `a half step up and back${effect(args)}`,
  'scale.side-slip-down': (args) => `a half step down and back${effect(args)}`,
};

/**
 * Why a chord-scale stands where it does on its ladder, in English for a musician, ASCII accidentals.
 * @returns undefined for a code that is not the ladder's.
 * @example wordsOfLadderReason({ code: 'function.dominant of major', args: {} }) // → 'leads down a fifth to a major chord'
 */
export function wordsOfLadderReason({ code, args }: Reason): string | undefined {
  if (code.startsWith('function.')) {
    const words = OF_FUNCTION[code.slice('function.'.length) as ChordFunction];
    const { instead } = args;
    return instead === undefined ? words : `${words}; ${instead} does not hold what the chord writes`;
  }
  return WORDS[code as keyof typeof WORDS]?.(args);
}
